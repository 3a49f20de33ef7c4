"""Rules about printed stencils and printed sizes."""
