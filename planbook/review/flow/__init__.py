"""Rules about the order of the work: pieces, stencils and boards that are there, used and used up."""
