"""The command line: commands, no logic."""
