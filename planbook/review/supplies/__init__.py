"""Rules about tools and supplies that are listed."""
