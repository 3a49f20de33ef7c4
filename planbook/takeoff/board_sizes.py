"""The sizes of boards as lists print them: what is bought never too thin, and sheets as they are sold."""

from dataclasses import replace
from fractions import Fraction

from planbook.takeoff.records import BoardRow, Dimensions
from planbook.takeoff.sold import is_metric
from planbook.units import (
    MM_PER_INCH,
    LengthStyle,
    Quantity,
    show_at_least,
    show_fine,
    show_length,
)

Sides = tuple[str, str, str]
"""Length, width and thickness as they are printed."""
FINER, THIN = 2, Fraction(1, 10)
"""A finished thickness that would be told this much too thin, mm, is told to so many parts of a step, to 1/64 in: where
boards are stacked it adds up.
"""


def to_buy_told(row: BoardRow, style: LengthStyle, *, beside: bool = False) -> Sides:
    """What to look for: with a rough size, no side is printed less than it is; `beside` as in `finished_told`."""
    if row.rough is None:
        return finished_told(row, style, beside=beside)
    length, width, thickness = (show_at_least(side, style) for side in _of(row.rough))
    return length, width, thickness if beside else _metric(row, row.rough, style) or thickness


def finished_told(row: BoardRow, style: LengthStyle, *, beside: bool = False) -> Sides:
    """What the board is brought to, its thickness to 1/64 in where 1/32 would be too thin.

    A sheet that is sold by millimetres has them among inches, unless these stand `beside` millimetres already.
    """
    length, width = (show_fine(Quantity(side, length=1), style) for side in (row.size.length, row.size.width))
    thickness = show_fine(Quantity(row.size.thickness, length=1), _finer(style, row.size.thickness))
    return length, width, thickness if beside else _metric(row, row.size, style) or thickness


def _finer(style: LengthStyle, mm: Fraction) -> LengthStyle:
    style = replace(style, also=_finer(style.also, mm)) if style.also else style
    step = style.step * MM_PER_INCH
    if style.unit != "in" or style.decimal or round(mm / step) * step > mm - THIN:
        return style
    return replace(style, step=style.step / FINER, settled=(), finer=())


def _of(size: Dimensions) -> tuple[Fraction, Fraction, Fraction]:
    return size.length, size.width, size.thickness


def _metric(row: BoardRow, size: Dimensions, style: LengthStyle) -> str:
    """The thickness of a sheet that is sold by millimetres, among inches: "18 mm (0.709 in)"; else ""."""
    if row.board_feet is not None or style.unit != "in" or not is_metric(size.thickness):
        return ""
    return show_length(size.thickness, replace(style, metric=(size.thickness,)))
