"""The sizes of boards as lists print them: what is bought never too thin, and sheets as they are sold."""

from dataclasses import replace

from planbook.takeoff.records import BoardRow, Dimensions
from planbook.takeoff.sold import is_metric
from planbook.units import LengthStyle, Quantity, show_at_least, show_fine, show_length

Sides = tuple[str, str, str]
"""Length, width and thickness as they are printed."""


def to_buy_told(row: BoardRow, style: LengthStyle, *, beside: bool = False) -> Sides:
    """What to look for: with a rough size, it is printed no thinner than it is; `beside` as in `finished_told`.

    Its length and width are what it is sawn to, and told as in the layout that says so.
    """
    if row.rough is None:
        return finished_told(row, style, beside=beside)
    length, width = (show_fine(Quantity(side, length=1), style) for side in (row.rough.length, row.rough.width))
    thickness = show_at_least(row.rough.thickness, style)
    return length, width, thickness if beside else _metric(row, row.rough, style) or thickness


def finished_told(row: BoardRow, style: LengthStyle, *, beside: bool = False) -> Sides:
    """What the board is brought to.

    A sheet that is sold by millimetres has them among inches, unless these stand `beside` millimetres already.
    """
    sides = (row.size.length, row.size.width, row.size.thickness)
    length, width, thickness = (show_fine(Quantity(side, length=1), style) for side in sides)
    return length, width, thickness if beside else _metric(row, row.size, style) or thickness


def _metric(row: BoardRow, size: Dimensions, style: LengthStyle) -> str:
    """The thickness of a sheet that is sold by millimetres, among inches: "18 mm (0.709 in)"; else ""."""
    if row.board_feet is not None or style.unit != "in" or not is_metric(size.thickness):
        return ""
    return show_length(size.thickness, replace(style, metric=(size.thickness,)))
