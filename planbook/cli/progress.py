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


@contextmanager
def counting(total: int, quiet: bool) -> Iterator[tuple[Callable[[str], None], Callable[[str], None]]]:
    """Two functions to be told what is begun and what is done; they show that on stderr if people can see it there."""
    if quiet or not sys.stderr.isatty():
        yield (lambda _: None), (lambda _: None)
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    at_work: list[str] = []
    columns = (BarColumn(), MofNCompleteColumn(), TextColumn("{task.description}", markup=False))
    with Progress(*columns, console=Console(stderr=True, highlight=False), transient=True) as bar:
        task = bar.add_task("", total=total)

        def begun(name: str) -> None:
            at_work.append(name)
            bar.update(task, description=", ".join(at_work))

        def done(name: str) -> None:
            if name in at_work:
                at_work.remove(name)
            bar.update(task, advance=1, description=", ".join(at_work))

        yield begun, done
