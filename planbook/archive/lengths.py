"""How lengths are told where two releases are compared: finer than in a booklet, so that a change is seen."""

from collections.abc import Iterable
from fractions import Fraction

from planbook.archive.facts import Measure
from planbook.speech import comma
from planbook.units import INCH_64, INCH_DECIMAL, MM_TENTH, Quantity, is_exact, show_length, show_quantity, to_mm_text

_POWERS = {"length": 1, "area": 2, "volume": 3}


def told(mm: float, units: str) -> str:
    """A length of `mm` millimetres: to a thousandth of a millimetre, or as a fraction of an inch where it is one."""
    exact = Fraction(round(mm, 6)).limit_denominator(10**6)
    if units == "mm":
        return comma(to_mm_text(exact, 3))
    return comma(show_length(exact, INCH_64 if is_exact(exact, INCH_64) else INCH_DECIMAL))


def told_sides(sides: Iterable[float], units: str) -> str:
    """Sides in mm as one size with the unit once: `150 × 60 × 45 mm`."""
    texts = [told(side, units) for side in sides]
    unit = f" {units}"
    return " × ".join(text.removesuffix(unit) for text in texts) + unit


def told_measure(measure: Measure, units: str) -> str:
    """Any value with its unit."""
    if measure.kind == "length":
        return told(measure.value, units)
    value = Fraction(round(measure.value, 6))
    style = MM_TENTH if units == "mm" else INCH_DECIMAL
    if measure.kind == "angle":
        return comma(show_quantity(Quantity(value, angle=1), style))
    return comma(show_quantity(Quantity(value, _POWERS.get(measure.kind, 0)), style))
