"""The release of one design, with its refusals and the sentences that tell of it."""

from pathlib import Path
from typing import TYPE_CHECKING

from planbook.cli.progress import telling
from planbook.cli.refusal import Refusal

if TYPE_CHECKING:
    from planbook.releasing import Released


def release_one(design: Path, folder: Path, quiet: bool) -> "tuple[Released, tuple[str, ...]]":
    """Release a design into the archive in a folder, and say what came of it.

    Raises Refusal, ArchiveProblem and OSError.
    """
    from planbook.archive import Archive
    from planbook.booklet import LayoutProblem
    from planbook.cache import usual
    from planbook.drawing.stencil_pages import PaperTooSmall
    from planbook.press import MissingLibrary
    from planbook.releasing import release

    try:
        with telling(str(design), quiet) as progress:
            made = release(design, Archive(folder), progress, cache=usual())
    except (MissingLibrary, LayoutProblem, PaperTooSmall) as problem:
        raise Refusal(str(problem)) from None
    return made, tuple(_told(made, folder))


def _told(made: "Released", folder: Path) -> list[str]:
    if made.outcome == "nothing to do":
        return [f"nothing to do: `{made.name}` is in {folder} already, the same in every file"]
    if made.outcome == "refused":
        return []
    found = [f"released `{made.name}` into {folder} ({made.files} files)"]
    if made.changes is not None:
        again = ", ".join(made.changes.print_again) or "none"
        found += [f"{len(made.changes.changes)} changes since `{made.after}`; stencils to print again: {again}"]
    return found
