"""Lists, drawings and prose to HTML: the only place that knows the template engine."""

from planbook.booklet.basics import Fact, Figure, Link, MarkRow, Sheet
from planbook.booklet.bought_rows import BoardRow, CutRow, CutSection, CutSheet, ShoppingRow, SupplyRow
from planbook.booklet.compose import compose
from planbook.booklet.days import day_bars
from planbook.booklet.editions import (
    COVER_ROOM,
    CUT_ROOM,
    DAYS_ROOM,
    PIECE_ROOM,
    SHEET_ROOM,
    STEP_ROOM,
    Edition,
    edition_for,
)
from planbook.booklet.fractions import fractions
from planbook.booklet.gathered import Explained, Pictures, StencilPage, figure
from planbook.booklet.layouts import layout_names
from planbook.booklet.make import make_book
from planbook.booklet.problem import LayoutProblem
from planbook.booklet.proofs import proved_range
from planbook.booklet.prose import prose_html
from planbook.booklet.records import (
    Book,
    CautionRow,
    DayRow,
    FitHelp,
    FitRow,
    MovedRow,
    PieceRow,
    PrecautionRow,
    RemedyRow,
    StencilRow,
    StepRow,
    TimePage,
)
from planbook.booklet.ruler import check_ruler
from planbook.booklet.step_room import room_beside

__all__ = [
    "COVER_ROOM",
    "CUT_ROOM",
    "DAYS_ROOM",
    "PIECE_ROOM",
    "SHEET_ROOM",
    "STEP_ROOM",
    "BoardRow",
    "Book",
    "CautionRow",
    "CutRow",
    "CutSection",
    "CutSheet",
    "DayRow",
    "Edition",
    "Explained",
    "Fact",
    "Figure",
    "FitHelp",
    "FitRow",
    "LayoutProblem",
    "Link",
    "MarkRow",
    "MovedRow",
    "Pictures",
    "PieceRow",
    "PrecautionRow",
    "RemedyRow",
    "Sheet",
    "ShoppingRow",
    "StencilPage",
    "StencilRow",
    "StepRow",
    "SupplyRow",
    "TimePage",
    "check_ruler",
    "compose",
    "day_bars",
    "edition_for",
    "figure",
    "fractions",
    "layout_names",
    "make_book",
    "prose_html",
    "proved_range",
    "room_beside",
]
