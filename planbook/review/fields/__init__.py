"""Rules about what is written in the block of an operation: its fields and the names in them."""
