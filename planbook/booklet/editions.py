"""Editions: on which paper, in which units and language a design is printed; not what is printed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Literal

from planbook.booklet.basics import Sheet
from planbook.booklet.layouts import USUAL
from planbook.drawing.correction import UNCORRECTED, Correction
from planbook.drawing.ink import Ink
from planbook.drawing.piece_views import Angle
from planbook.handbook import Paper, paper
from planbook.model import Card
from planbook.speech import comma, say
from planbook.takeoff.prices import Prices
from planbook.takeoff.schedule.plan import WORK_A_DAY
from planbook.units import INCH_32, INCH_DECIMAL, MM_AND_INCH, MM_TENTH, LengthStyle, Quantity, fine_size, show_fine

PaperName = Literal["letter", "a4", "tabloid", "a3"]
Large = Literal["letter", "a4", "tabloid", "a3", "roll", "roll-36"]
Units = Literal["in", "in-decimal", "mm", "both"]
Language = Literal["en", "de", "es", "fr"]
STEP_ROOM = (98.0, 64.0)
PIECE_ROOM = (20.0, 15.0)
COVER_ROOM = (160.0, 120.0)
CUT_ROOM, SHORT_CUT_ROOM = (168.0, 96.0), (87.0, 96.0)
EXPLODED_ROOM = (168.0, 130.0)
SHEET_ROOM = (168.0, 112.0)
DAYS_ROOM = (169.0, 158.0)
NARROW_SHEET_ROOM, SLIM_SHEET_ROOM = (112.0, 112.0), (80.0, 112.0)
"""Width and most height in mm of the pictures on the page, so that they can be drawn at the size they are seen."""
_PULLED = 0.44
"""The pieces pulled apart are no higher than this share of the page, so that they begin below half of another part."""
WIDE = 250.0
"""Paper wider than this (mm) is set in two columns."""
_TITLES = {
    "letter": "Letter",
    "a4": "A4",
    "tabloid": "Tabloid",
    "a3": "A3",
    "in": "inches",
    "in-decimal": "decimal inches",
    "mm": "millimetres",
    "both": "millimetres and inches",
}
STYLES: dict[Units, LengthStyle] = {"in": INCH_32, "in-decimal": INCH_DECIMAL, "mm": MM_TENTH, "both": MM_AND_INCH}
"""How lengths are printed in each of the units."""


@dataclass(frozen=True, slots=True)
class Edition:
    """One rendering of a design. A draft is marked on every page; `lengths` overrides the rounding.

    `correction` is for the stencils alone: the other pages need no true size. With `tool_files`, stencils and
    pieces are also written for other tools. `work_a_day` is how many minutes of work a day its schedule counts on,
    from 1 to 1440. With `prices` of the maker's own, it has a page of costs. `layout` is the name of one of ours or
    the folder of another; `stencils_on` is the paper of the stencils where that differs. With `archive`, a copy for
    archives is written as well, with the design and its lists inside.
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
    archive: bool = False
    ink: Ink = "colour"
    layout: str | Path = USUAL
    stencils_on: Large | None = None

    @property
    def system(self) -> Literal["in", "mm"]:
        """Inches or metres: what things are bought in, and what the drawings are measured in."""
        return "in" if self.units in ("in", "in-decimal") else "mm"

    @property
    def style(self) -> LengthStyle:
        """How lengths are printed: to 1/32 in or to a tenth of a millimetre; small ones finer."""
        return self.lengths or STYLES[self.units]

    @property
    def paper_row(self) -> Paper:
        """The paper's row in the handbook."""
        row = paper(self.paper)
        assert row is not None, "all papers are in the handbook"
        return row

    @property
    def sheet(self) -> Sheet:
        """The paper as the layout needs it."""
        row = self.paper_row
        return Sheet(_TITLES[self.paper], float(row.width_mm), float(row.height_mm))

    @property
    def exploded_room(self) -> tuple[float, float]:
        """The room of the pieces pulled apart, mm."""
        width, height = EXPLODED_ROOM
        return width, min(height, _PULLED * self.sheet.height)

    @property
    def slim_room(self) -> tuple[float, float]:
        """The room of a measured drawing that stands beside another one, mm: on wide paper in a column of its own."""
        return NARROW_SHEET_ROOM if self.sheet.width > WIDE else SLIM_SHEET_ROOM

    @property
    def angle(self) -> Angle:
        """How views are laid out: as in America where inches are used, else as in Europe."""
        return "third" if self.system == "in" else "first"

    @property
    def drawn_style(self) -> LengthStyle:
        """How lengths are printed on drawings and stencils: in one unit, which has room there."""
        return replace(self.style, also=None, brief=True)

    @property
    def stencil_paper(self) -> Paper:
        """The row in the handbook of the paper of the stencils."""
        row = paper(self.stencils_on or self.paper)
        assert row is not None, "all papers are in the handbook"
        return row

    @property
    def marks(self) -> tuple[str, ...]:
        """What the names of its files carry: paper and units, and what else differs from the usual edition."""
        layout = Path(self.layout).name if self.layout != USUAL else ""
        stencils = f"stencils-{self.stencils_on}" if self.stencils_on not in (None, self.paper) else ""
        language, ink = (
            value if value != usual else "" for value, usual in ((self.language, "en"), (self.ink, "colour"))
        )
        return tuple(filter(None, (self.paper, self.units, language, layout, ink, stencils)))

    @property
    def title(self) -> str:
        """What the edition is called: "A4, millimetres"."""
        return f"{_TITLES[self.paper]}, {say(_TITLES[self.units])}"

    def length(self, mm: Fraction | float) -> str:
        """A length of `mm` millimetres as this edition prints it."""
        return show_fine(Quantity(Fraction(mm), 1), self.style)

    def quantity(self, quantity: Quantity) -> str:
        """Any quantity as this edition prints it."""
        return show_fine(quantity, self.style)

    def box(self, *sides: Fraction | float) -> str:
        """Sides in mm as one size with the unit once: "8 1/2 × 4 × 3/4 in"."""
        if self.style.also:
            styles = (self.drawn_style, self.style.also)
            metric, inches = (replace(self, lengths=style).box(*sides).replace(" ", "\u00a0") for style in styles)
            return f"{metric} ({inches})"
        return times([self.length(side) for side in sides], self.style)

    def gap(self, mm: float) -> str:
        """A small clearance in mm, finer than a ruler shows: "0.40", or in inches "0.016"; no unit."""
        size = float(fine_size(Fraction(mm), replace(self.style, also=None)))
        return comma(f"{size:.2f}" if self.system == "mm" else f"{size:.3f}")


def times(sides: Sequence[str], style: LengthStyle) -> str:
    """Printed sides as one size, with the unit of the style once: "8 × 4 × 3/4 in", "8 × 4 in × 18 mm (0.709 in)".

    A line may end only before a side that has a unit of its own.
    """
    unit = f" {style.unit}"
    *first, last = sides
    if last.endswith(unit):
        return " × ".join(side.removesuffix(unit) for side in sides) + unit
    in_unit = f"{' × '.join(side.removesuffix(unit) for side in first)}{unit} ×".replace(" ", "\u00a0")
    return f"{in_unit} {last}".replace(" (", "\u00a0(")


def edition_for(
    card: Card,
    paper: PaperName | None = None,
    units: Units | None = None,
    draft: bool = False,
    correction: Correction = UNCORRECTED,
    tool_files: bool = False,
    work_a_day: int = WORK_A_DAY,
    language: Language = "en",
    ink: Ink = "colour",
    layout: str | Path = USUAL,
    stencils_on: Large | None = None,
    archive: bool = False,
) -> Edition:
    """The edition asked for; what was not asked for follows the units that the design is drawn in."""
    measured = units or card.units
    return Edition(
        paper or ("letter" if measured in ("in", "in-decimal") else "a4"),
        measured,
        language,
        draft=draft,
        correction=correction,
        tool_files=tool_files,
        work_a_day=work_a_day,
        ink=ink,
        layout=layout,
        stencils_on=stencils_on,
        archive=archive,
    )
