"""What goes wrong when a layout cannot be filled in; not findings about a design."""


class LayoutProblem(Exception):  # noqa: N818 - it is told to people like a finding
    """A layout is missing or wrong: what happened, in which of its files, on which line (0: unknown)."""

    def __init__(self, message: str, file: str, line: int = 0) -> None:
        super().__init__(message, file, line)  # all of them, so that it can be handed to another process
        self.message = message
        self.file = file
        self.line = line

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}" if self.line else self.file
        return f"{where}: {self.message}"
