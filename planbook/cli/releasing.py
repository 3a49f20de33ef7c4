"""The release of one design, with its refusals and the sentences that tell of it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.cli.progress import telling
from planbook.cli.refusal import Refusal

if TYPE_CHECKING:
    from planbook.archive import Archive
    from planbook.releasing import Released
    from planbook.text import Finding


def release_one(design: Path, folder: Path, quiet: bool) -> "tuple[Released, tuple[str, ...]]":
    """Release a design into the archive in a folder, and say what came of it.

    Raises Refusal, ArchiveProblem and OSError.
    """
    from planbook.archive import Archive
    from planbook.cache import usual
    from planbook.releasing import release

    with _printing(str(design), quiet) as progress:
        made = release(design, Archive(folder), progress, cache=usual())
    return made, tuple(_told(made, folder))


def reprint_one(archive: "Archive", name: str, quiet: bool) -> "tuple[Finding, ...]":
    """Print a release again, without anything kept from before. Raises Refusal, ArchiveProblem and OSError."""
    from planbook.releasing import printed_again

    with _printing(name, quiet) as progress:
        return printed_again(archive, name, progress)


@contextmanager
def _printing(name: str, quiet: bool) -> Iterator[Callable[[str], None]]:
    """Tells what is being printed; raises Refusal where the printer or a layout is not usable."""
    from planbook.booklet import LayoutProblem
    from planbook.drawing.stencil_pages import PaperTooSmall
    from planbook.press import MissingLibrary

    try:
        with telling(name, quiet) as progress:
            yield progress
    except (MissingLibrary, LayoutProblem, PaperTooSmall) as problem:
        raise Refusal(str(problem)) from None


def _told(made: "Released", folder: Path) -> list[str]:
    from planbook.archive.names import counted

    if made.outcome == "nothing to do":
        return [f"nothing to do: `{made.name}` is in {folder} already, the same in every file"]
    if made.outcome == "refused":
        return []
    found = [f"released `{made.name}` into {folder} ({made.files} files)"]
    if made.changes is not None:
        again = ", ".join(made.changes.print_again) or "none"
        changes = counted(len(made.changes.changes), "change")
        found += [f"{changes} since `{made.after}`; stencils to print again: {again}"]
    return found
