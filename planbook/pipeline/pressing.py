"""Takes an edition that is ready for the press to the files that are written."""

import multiprocessing
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planbook.handbook import Paper


@dataclass(frozen=True, eq=False)
class Typeset:
    """All that the press needs of one edition, as plain values that another process can be handed.

    `stem` is what its files are called; `sizes` (mm) are those of its pages of stencils; `beside` are the files to
    write with it, by their names; `inside` are those that its copy for archives carries, None if there is to be none.
    """

    stem: str
    html: str
    paper: "Paper"
    sizes: tuple[tuple[float, float], ...]
    layout: str
    beside: Mapping[str, bytes]
    inside: Mapping[str, bytes] | None = None


@dataclass(frozen=True, eq=False)
class Pressed:
    """The files of an edition by their names, the booklet first, and the numbers of its pages that are nearly empty."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    sparse_pages: tuple[int, ...] = ()


def pressed(typeset: Typeset) -> Pressed:
    """The files of an edition by their names, the booklet first. Raises MissingLibrary and LayoutProblem."""
    from planbook.booklet import LayoutProblem
    from planbook.press import press

    made = press(typeset.html, typeset.paper, typeset.sizes)
    if made.refused or made.odd_pages:
        what = f"asks for {made.refused[0]}" if made.refused else f"sets page {made.odd_pages[0]} in another size"
        raise LayoutProblem(f"the layout {what}", typeset.layout)
    files = {f"{typeset.stem}.pdf": made.pdf, **typeset.beside}
    if typeset.inside is not None:
        kept = press(typeset.html, typeset.paper, typeset.sizes, standard="pdf/a-3u", attached=typeset.inside)
        files[f"{typeset.stem}-archive.pdf"] = kept.pdf
    return Pressed(files, made.sparse_pages)


MOST_SECONDS, MOST_BYTES = 600.0, 4 * 2**30
"""What printing by a layout of somebody else may take; our own layouts take seconds, and a tenth of the memory."""


@contextmanager
def presses(processes: int, own: bool = True) -> Iterator[Callable[[Typeset], Callable[[], Pressed]]]:
    """A function that begins to press an edition and gives another one, which waits for its files.

    With one process nothing is begun before it is waited for, and no other process is started; but a layout that is
    not our `own` is always pressed in another one, which is stopped where it takes too much: a style sheet can make a
    printer run on without end.
    """
    if not own:
        with _bounded(processes) as bounded:
            yield bounded
        return
    if processes == 1:
        yield lambda typeset: partial(pressed, typeset)
        return
    # The geometry library has started threads by now, and a process with threads must not be forked.
    with ProcessPoolExecutor(processes, mp_context=multiprocessing.get_context("spawn")) as pool:
        yield lambda typeset: pool.submit(pressed, typeset).result


@contextmanager
def _bounded(processes: int) -> Iterator[Callable[[Typeset], Callable[[], Pressed]]]:
    pool = ProcessPoolExecutor(processes, mp_context=multiprocessing.get_context("spawn"), initializer=_keep_small)

    def waited(typeset: Typeset, begun: "Future[Pressed]") -> Pressed:
        from planbook.booklet import LayoutProblem

        try:
            return begun.result(MOST_SECONDS)
        except TimeoutError:
            raise LayoutProblem(f"takes more than {MOST_SECONDS:g} s to print", typeset.layout) from None
        except (MemoryError, BrokenProcessPool):
            raise LayoutProblem("takes more memory to print than a booklet needs", typeset.layout) from None

    try:
        yield lambda typeset: partial(waited, typeset, pool.submit(pressed, typeset))
    finally:
        for process in (*(pool._processes or {}).values(),):
            process.kill()
        pool.shutdown(cancel_futures=True)


def _keep_small() -> None:
    """Bound the memory of this process, where the system can."""
    try:
        import resource
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
