"""Diameters of drills and cutters as they are bought: a drill is of inches or of millimetres, and named so first."""

from dataclasses import replace
from fractions import Fraction

from planbook.units.printing import INCH_64, MM_TENTH, LengthStyle, per_step, printed, show_length, to_mm_text

_SAME = Fraction(15, 1000)
"""Diameters closer than this (mm) are one: a hole measured on a solid may be wider by what keeps two solids apart."""

NO_BREAK = "\u00a0"


def show_drill(mm: Fraction | float, style: LengthStyle) -> str:
    """A diameter of `mm` millimetres in the style: "3/16 in", or "10 mm (≈ 25/64 in)" for a drill of millimetres.

    Drills are sold by 1/64 in and by a tenth of a millimetre (common practice). One of the other system is named as it
    is, with the nearest of the style behind it; one of neither by the nearest of the style, with its millimetres.
    """
    exact = Fraction(mm).limit_denominator(10**6)
    inch, metric = (_on(exact, grid) for grid in (INCH_64, MM_TENTH))
    fraction = show_length(inch or exact, INCH_64)
    tenths = to_mm_text(metric or exact, 2)
    if style.also:
        return _with(tenths, fraction if inch else f"≈ {fraction}")
    if style.unit == "mm":
        return _with(tenths, fraction) if inch and not metric else tenths
    if inch:
        return _inches(inch, style)
    about = f"≈ {_inches(exact, style)}"
    return _with(tenths, about) if metric else _with(about.replace(" ", NO_BREAK), tenths)


def is_sold_by(mm: Fraction | float) -> bool:
    """Whether tools are sold by this width (mm): one of 64ths of an inch or of tenths of a millimetre."""
    exact = Fraction(mm).limit_denominator(10**6)
    return any(_on(exact, grid) for grid in (INCH_64, MM_TENTH))


def is_half_of_a_bit(mm: float, style: LengthStyle) -> bool:
    """Whether a radius (mm) is that of a bit of the style, and as it is printed not half of what the bit is told as."""
    bits = (bit for bit in style.bits if abs(bit - 2 * Fraction(mm)) < _SAME)
    return style.unit == "in" and any(2 * printed(bit / 2, style) != _nearest(bit, INCH_64) for bit in bits)


def _nearest(mm: Fraction, grid: LengthStyle) -> Fraction:
    return round(mm / per_step(grid)) * per_step(grid)


def _with(first: str, other: str) -> str:
    """A diameter, and what it is in the other units in brackets, which no line ends in."""
    return f"{first} ({other.replace(' ', NO_BREAK)})"


def _on(mm: Fraction, grid: LengthStyle) -> Fraction | None:
    """The length of a grid that a diameter is, or None."""
    near = _nearest(mm, grid)
    return near if near and abs(near - mm) < _SAME else None


def _inches(mm: Fraction, style: LengthStyle) -> str:
    """The nearest 1/64 in, as a fraction, or as a decimal that tells it apart from its neighbours."""
    near = _nearest(mm, INCH_64)
    return show_length(near, replace(style, step=Fraction(1, 10_000) if style.decimal else INCH_64.step))
