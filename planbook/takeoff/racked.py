"""Which boards of a rack can become which parts, by wood, thickness and width; it lays nothing out."""

from collections.abc import Iterable
from fractions import Fraction
from functools import cache

from planbook.handbook import cuttings, wood
from planbook.model import RackRow
from planbook.takeoff.wanted import Wanted

SHEET_PLAY = Fraction(4, 5)
"""A sheet may differ from the thickness designed by this many mm: 18 mm plywood stands in for 23/32 in."""


@cache
def plane_off() -> Fraction:
    """A board that is no more than this too thick is planed down, in mm."""
    return max(row.plane_off_mm for row in cuttings().values())


def wood_of(row: RackRow) -> str:
    """The wood of a row as the handbook calls it."""
    found = wood(row.wood)
    return found.name if found else row.wood


def misfit(row: RackRow, part: Wanted) -> Fraction:
    """How much too thick (above zero) or too thin (below zero) a board is for a part, in mm; 0 where it serves."""
    if part.group == "sheet":
        off = row.thickness - part.finished.thickness
        return Fraction(0) if abs(off) <= SHEET_PLAY else off
    least = part.thickness(row.planed)
    if row.thickness < least:
        return row.thickness - least
    return max(Fraction(0), row.thickness - part.finished.thickness - plane_off())


def serves(row: RackRow, part: Wanted) -> bool:
    """Whether a part can come from a board of the rack, as far as thickness goes; from a bar, also its width."""
    if misfit(row, part) != 0:
        return False
    wide = part.finished.width
    return row.kind != "bar" or wide <= row.width <= wide + plane_off()


def fits_somewhere(row: RackRow, parts: Iterable[Wanted]) -> bool:
    """Whether the thickness of a board serves any of the parts."""
    return any(misfit(row, part) == 0 for part in parts)
