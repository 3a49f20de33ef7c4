"""Editions: on which paper, in which units and language a design is printed; not what is printed."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planbook.booklet.records import Sheet
from planbook.drawing.correction import UNCORRECTED, Correction
from planbook.drawing.piece_sheet import Angle
from planbook.handbook import Paper, paper
from planbook.model import Card
from planbook.takeoff.prices import Prices
from planbook.takeoff.schedule.plan import WORK_A_DAY
from planbook.units import INCH_32, MM_TENTH, LengthStyle, Quantity, show_fine

PaperName = Literal["letter", "a4"]
Units = Literal["in", "mm"]
STEP_ROOM = (98.0, 64.0)
PIECE_ROOM = (20.0, 15.0)
COVER_ROOM = (160.0, 120.0)
CUT_ROOM = (168.0, 96.0)
EXPLODED_ROOM = (168.0, 130.0)
SHEET_ROOM = (168.0, 112.0)
DAYS_ROOM = (169.0, 158.0)
"""Width and most height in mm of the pictures on the page, so that they can be drawn at the size they are seen."""
_TITLES = {"letter": "Letter", "a4": "A4", "in": "inches", "mm": "millimetres"}
STYLES: dict[Units, LengthStyle] = {"in": INCH_32, "mm": MM_TENTH}
"""How lengths are printed in each of the units."""


@dataclass(frozen=True, slots=True)
class Edition:
    """One rendering of a design. A draft is marked on every page; `lengths` overrides the rounding.

    `correction` is for the stencils alone: the other pages need no true size. With `tool_files`, stencils and
    pieces are also written for other tools. `work_a_day` is how many minutes of work a day its schedule counts on,
    from 1 to 1440. With `prices` of the maker's own, it has a page of costs.
    """

    paper: PaperName = "letter"
    units: Units = "in"
    language: str = "en"
    draft: bool = False
    correction: Correction = UNCORRECTED
    tool_files: bool = False
    lengths: LengthStyle | None = None
    work_a_day: int = WORK_A_DAY
    prices: Prices | None = None

    @property
    def style(self) -> LengthStyle:
        """How lengths are printed: to 1/32 in or to a tenth of a millimetre; small ones finer."""
        return self.lengths or STYLES[self.units]

    @property
    def paper_row(self) -> Paper:
        """The paper's row in the handbook."""
        row = paper(self.paper)
        assert row is not None, "both papers are in the handbook"
        return row

    @property
    def sheet(self) -> Sheet:
        """The paper as the layout needs it."""
        row = self.paper_row
        return Sheet(_TITLES[self.paper], float(row.width_mm), float(row.height_mm))

    @property
    def angle(self) -> Angle:
        """How views are laid out: as in America where inches are used, else as in Europe."""
        return "third" if self.units == "in" else "first"

    @property
    def title(self) -> str:
        """What the edition is called: "A4, millimetres"."""
        return f"{_TITLES[self.paper]}, {_TITLES[self.units]}"

    def length(self, mm: Fraction | float) -> str:
        """A length of `mm` millimetres as this edition prints it."""
        return show_fine(Quantity(Fraction(mm), 1), self.style)

    def quantity(self, quantity: Quantity) -> str:
        """Any quantity as this edition prints it."""
        return show_fine(quantity, self.style)

    def box(self, *sides: Fraction | float) -> str:
        """Sides in mm as one size with the unit once: "8 1/2 × 4 × 3/4 in"."""
        unit = f" {self.style.unit}"
        return " × ".join(self.length(side).removesuffix(unit) for side in sides) + unit

    def gap(self, mm: float) -> str:
        """A small clearance in mm, finer than a ruler shows: "0.40", or in inches "0.016"; no unit."""
        return f"{mm:.2f}" if self.units == "mm" else f"{mm / 25.4:.3f}"


def edition_for(
    card: Card,
    paper: PaperName | None = None,
    units: Units | None = None,
    draft: bool = False,
    correction: Correction = UNCORRECTED,
    tool_files: bool = False,
    work_a_day: int = WORK_A_DAY,
) -> Edition:
    """The edition asked for; what was not asked for follows the units that the design is drawn in."""
    measured = units or card.units
    return Edition(
        paper or ("letter" if measured == "in" else "a4"),
        measured,
        draft=draft,
        correction=correction,
        tool_files=tool_files,
        work_a_day=work_a_day,
    )
