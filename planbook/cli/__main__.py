"""Lets `python -m planbook.cli` stand for `planbook`, where the package is not installed."""

from planbook.cli import main

main()
