"""Tells on the terminal what is being done, while it is being done."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def telling(name: str, quiet: bool) -> Iterator[Callable[[str], None]]:
    """A function to be told what is done next; it shows that on stderr if people can see it there."""
    if quiet or not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console
    from rich.text import Text

    console = Console(stderr=True, highlight=False)
    with console.status(Text(name)) as status:
        yield lambda doing: status.update(Text(f"{name}: {doing}"))
