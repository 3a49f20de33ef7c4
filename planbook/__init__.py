"""planbook compiles a design and its ordered operations into a step-by-step plan for woodworkers."""

__version__ = "0.1.0"
