"""Rules about the words of a step: names and lengths in its prose, its title, its instruction."""
