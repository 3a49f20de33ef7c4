"""Amounts of supplies in metric and US units, rounded up to what can be measured out; and their printing."""

import math
from fractions import Fraction

from planbook.speech import comma, say_many
from planbook.takeoff.records import Amount, Unit
from planbook.units import LengthStyle

ALLOWANCE = Fraction(115, 100)
"""15 % more than the work takes, for what stays in the brush and the pot (common practice)."""

ML_PER_FL_OZ = Fraction(473176473, 16 * 10**6)
"""US fluid ounce: 1/128 of the gallon of 231 cubic inches, 29.5735295625 ml."""
G_PER_OZ = Fraction(45359237, 16 * 10**5)
"""Avoirdupois ounce: 1/16 of the pound of 453.59237 g."""
M2_PER_FT2 = Fraction(9290304, 10**8)
"""Square foot: 0.3048 m squared."""
M_PER_FT = Fraction(3048, 10**4)

_US: dict[str, tuple[Unit, Fraction]] = {
    "ml": ("fl oz", ML_PER_FL_OZ),
    "g": ("oz", G_PER_OZ),
    "m2": ("ft2", M2_PER_FT2),
    "m": ("ft", M_PER_FT),
}

_COARSE = (None, Fraction(1))
_STEPS: dict[Unit, tuple[tuple[int | None, Fraction], ...]] = {
    "ml": ((50, Fraction(5)), (250, Fraction(10)), (None, Fraction(50))),
    "g": ((50, Fraction(5)), (250, Fraction(10)), (None, Fraction(50))),
    "fl oz": ((4, Fraction(1, 4)), (16, Fraction(1, 2)), _COARSE),
    "oz": ((4, Fraction(1, 4)), (16, Fraction(1, 2)), _COARSE),
    "m2": ((1, Fraction(1, 100)), (None, Fraction(1, 10))),
    "m": ((1, Fraction(1, 20)), (None, Fraction(1, 2))),
    "ft2": ((10, Fraction(1, 4)), _COARSE),
    "ft": ((10, Fraction(1, 2)), _COARSE),
}
"""Steps to round up to: (amounts up to, step), the last without a limit."""

_SHOWN = {"m2": "m²", "ft2": "ft²"}
_COUNTED = {"pieces": ("{count} piece", "{count} pieces"), "sheets": ("{count} sheet", "{count} sheets")}


def rounded_up(amount: Amount) -> Amount:
    """The amount rounded up to a step that can be measured out; more than a litre is given in litres."""
    if amount.unit == "ml" and amount.value > 1000:
        return Amount(_up(amount.value / 1000, Fraction(1, 10)), "l")
    steps = _STEPS.get(amount.unit, (_COARSE,))
    step = next(step for most, step in steps if most is None or amount.value <= most)
    return Amount(_up(amount.value, step), amount.unit)


def in_us(amount: Amount) -> Amount:
    """A metric amount in US customary units, exact; a count stays as it is."""
    if amount.unit not in _US:
        return amount
    unit, size = _US[amount.unit]
    return Amount(amount.value / size, unit)


def to_have(amount: Amount) -> tuple[Amount, Amount]:
    """What to have for an exact metric amount: (metric, US) with the allowance, each rounded up."""
    more = amount if amount.unit == "pieces" else Amount(amount.value * ALLOWANCE, amount.unit)
    return rounded_up(more), rounded_up(in_us(more))


def show_amount(amount: Amount, style: LengthStyle | None = None) -> str:
    """An amount in words: "15 ml", "1 1/4 fl oz", "0.42 m²". With a style, converted to its system first."""
    if style is not None and style.unit == "in":
        amount = in_us(amount)
    unit = _SHOWN.get(amount.unit, amount.unit)
    if amount.unit in _COUNTED and amount.value.denominator == 1:
        return say_many(*_COUNTED[amount.unit], int(amount.value))
    if amount.unit in ("fl oz", "oz", "ft2", "ft") and amount.value.denominator <= 4:
        return f"{_mixed(amount.value)} {unit}"
    return f"{_decimal(amount.value)} {unit}"


def _up(value: Fraction, step: Fraction) -> Fraction:
    return math.ceil(value / step) * step


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    return str(whole) if not rest else f"{whole} {rest}" if whole else str(rest)


def _decimal(value: Fraction) -> str:
    """Two decimals, or two figures for what is smaller than a tenth, without trailing zeros."""
    if value == 0:
        return "0"
    places = 2 if value >= Fraction(1, 10) else 1 - math.floor(math.log10(value))
    text = f"{float(round(value, places)):.{places}f}"
    return comma(text.rstrip("0").rstrip("."))
