"""What cannot be done as asked, in one sentence; findings about a design are something else."""

from typing import IO, Any

import click


class Refusal(click.ClickException):
    """Ends a command with one sentence on stderr and exit status 2."""

    exit_code = 2

    def show(self, file: IO[Any] | None = None) -> None:
        """Print the sentence."""
        click.echo(f"planbook: {self.format_message()}", file=file, err=file is None)


def cannot(doing: str, error: OSError) -> Refusal:
    """The refusal for a file or folder that the system does not let us use."""
    reason = (error.strerror or type(error).__name__).lower()
    return Refusal(f"`{error.filename}` {doing}: {reason}" if error.filename else f"{doing}: {reason}")


def fault_words(fault: Exception) -> str:
    """What is said of a fault of the program itself."""
    what = " ".join(f"{type(fault).__name__}: {fault}".split())[:300]
    return f"planbook has a fault, which is not one of your design ({what})"
