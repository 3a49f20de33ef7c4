"""The front page of a correction sheet: what changed between two versions, and what to print again."""

from dataclasses import dataclass

from planbook.booklet.compose import fill, words_of
from planbook.booklet.layouts import layout_root


@dataclass(frozen=True, slots=True)
class CorrectionSheet:
    """What stands on it; width and height are those of the paper, mm; page numbers are those of the new booklet.

    `none_again` says that it is known that no stencil need be printed again.
    """

    title: str
    old: str
    new: str
    pages: tuple[int, ...]
    width: float
    height: float
    stencils: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    language: str = "en"
    none_again: bool = False


def correction_html(sheet: CorrectionSheet) -> str:
    """The front page as HTML that needs nothing else but the fonts of the house. Raises LayoutProblem."""
    folder = layout_root() / "correction"
    return fill(folder, "sheet.html", {"sheet": sheet, "words": words_of(folder, sheet.language)})
