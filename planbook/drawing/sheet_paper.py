"""The paper that stencils are printed on: its sizes, its margins, its foot of checking marks, a finished page."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planbook.drawing.marks import Mark, Picture
from planbook.drawing.sheet_check import BARS_HEIGHT, BARS_WIDTH, check_bars, instruction, key
from planbook.drawing.stencil_figure import layers_of
from planbook.drawing.stencil_words import StencilWords
from planbook.units import LengthStyle

A4 = (210.0, 297.0)
"""ISO 216."""
A3 = (297.0, 420.0)
"""ISO 216."""
LETTER = (215.9, 279.4)
"""ANSI/ASME Y14.1 size A, 8 1/2 x 11 in."""
TABLOID = (279.4, 431.8)
"""ANSI/ASME Y14.1 size B, 11 x 17 in."""

MARGIN = 8.0
"""Margin that nearly every printer leaves printable, mm."""
SAID = 4.2
BELONGS = 2.6
"""Room under the bars for the line that the layouts set there: which plan and page it is, mm."""
_FOOT = BARS_HEIGHT + SAID + BELONGS + 1.6
HEAD = 11.5
_LEAST = (BARS_WIDTH + 1.0, 90.0)

Kind = Literal["single", "shared", "tile"]


class PaperTooSmall(Exception):  # noqa: N818 - it reports what was asked for, not a failure of the program
    """A paper inside whose margins the check bars and a stencil have no room; `width` and `height` in mm."""

    def __init__(self, width: float, height: float, margin: float) -> None:
        super().__init__(width, height, margin)
        self.width, self.height, self.margin = width, height, margin

    def __str__(self) -> str:
        paper = f"{self.width:g} x {self.height:g} mm with margins of {self.margin:g} mm"
        needed = f"{_LEAST[0]:g} x {_LEAST[1]:g} mm must be left inside"
        return f"paper of {paper} is too small for stencils; {needed}"


@dataclass(frozen=True, slots=True)
class StencilPage:
    """A full page: its picture, its stencils by number, row and column (from 1) if a tile; how often it is needed."""

    picture: Picture
    kind: Kind
    numbers: tuple[int, ...]
    tile: tuple[int, int] | None
    title: str
    copies: int = 1


@dataclass(frozen=True, slots=True)
class SheetPaper:
    """A paper with its margin (mm), and the words and lengths printed on it."""

    width: float
    height: float
    margin: float
    words: StencilWords
    style: LengthStyle

    @property
    def body(self) -> tuple[float, float]:
        """Width and height left for stencils above the checking bars."""
        return self.width - 2 * self.margin, self.height - 2 * self.margin - _FOOT

    @property
    def tile(self) -> tuple[float, float]:
        """Width and height of a tile between its head and the bars."""
        return self.body[0], self.body[1] - HEAD

    def checked(self) -> "SheetPaper":
        """Itself. Raises PaperTooSmall."""
        if self.body[0] < _LEAST[0] or self.body[1] + _FOOT < _LEAST[1]:
            raise PaperTooSmall(self.width, self.height, self.margin)
        return self


def foot(drawn: Sequence[Mark], sheet: SheetPaper, kept_free: float = 0.0) -> tuple[Mark, ...]:
    """Bars, the sentence about them, and the key of the lines drawn; `kept_free` mm stay empty on the right."""
    x, y = sheet.margin, sheet.height - sheet.margin - BELONGS - BARS_HEIGHT
    said = instruction((x, y - SAID), BARS_WIDTH, drawn, sheet.words)
    width = sheet.body[0] - BARS_WIDTH - 5.0 - kept_free
    beside = (x + BARS_WIDTH + 5.0, y - SAID)
    return (*said, *check_bars((x, y)), *key(beside, (width, BARS_HEIGHT + SAID), layers_of(drawn), sheet.words))
