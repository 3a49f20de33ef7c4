"""What holds in the nominal build and not over all that may vary."""
