"""How things are sold: by a measure, or in packs of so much; and how much of a purchase that is."""

import re
from dataclasses import dataclass
from fractions import Fraction

from planbook.takeoff.shopping import Bought
from planbook.units import UnitProblem, near, read_quantity

BOARD_FOOT_M3 = Fraction("0.002359737216")
"""144 cubic inches."""
INCH = Fraction("25.4")
_FLUID_OUNCE_L = Fraction("0.0295735295625")
_SQUARE_FOOT_M2 = Fraction("0.09290304")
_POUND_KG = Fraction("0.45359237")
_UNITS: dict[str, tuple[str, Fraction]] = {
    **dict.fromkeys(("board foot", "board feet", "board ft"), ("board foot", Fraction(1))),
    **dict.fromkeys(("m3", "m³", "cubic metre", "cubic meter"), ("m3", Fraction(1))),
    **dict.fromkeys(("m2", "m²", "square metre", "square meter"), ("m2", Fraction(1))),
    **dict.fromkeys(("ft2", "ft²", "square foot", "square feet"), ("m2", _SQUARE_FOOT_M2)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), ("m", Fraction(1))),
    **dict.fromkeys(("ft", "foot", "feet"), ("m", INCH * 12 / 1000)),
    **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), ("l", Fraction(1))),
    "ml": ("l", Fraction(1, 1000)),
    "fl oz": ("l", _FLUID_OUNCE_L),
    **dict.fromkeys(("pint", "pints"), ("l", 16 * _FLUID_OUNCE_L)),
    **dict.fromkeys(("quart", "quarts"), ("l", 32 * _FLUID_OUNCE_L)),
    **dict.fromkeys(("gallon", "gallons"), ("l", 128 * _FLUID_OUNCE_L)),
    **dict.fromkeys(("kg", "kilogram", "kilograms"), ("kg", Fraction(1))),
    **dict.fromkeys(("g", "gram", "grams"), ("kg", Fraction(1, 1000))),
    **dict.fromkeys(("lb", "pound", "pounds"), ("kg", _POUND_KG)),
    **dict.fromkeys(("oz", "ounce", "ounces"), ("kg", _POUND_KG / 16)),
    **dict.fromkeys(("board", "boards"), ("board", Fraction(1))),
    **dict.fromkeys(("sheet", "sheets"), ("sheet", Fraction(1))),
    **dict.fromkeys(("piece", "pieces"), ("piece", Fraction(1))),
    **dict.fromkeys(("hour", "hours", "h"), ("hour", Fraction(1))),
    **dict.fromkeys(("page", "pages"), ("page", Fraction(1))),
}
"""Units of sale: what is measured, and how much of it (US fluid measures)."""
_PACK = re.compile(r"(?:pack of )?(?P<count>\d[\d./ ]*)\s*(?P<unit>[^\d\s].*)?")
_ROUNDING = Fraction(1, 10_000)
"""A pack is enough if what is missing is less than this share of it: amounts were rounded before."""


@dataclass(frozen=True, slots=True)
class Sale:
    """`size` is how much of `measure` one price buys; `whole` if only whole ones are sold, as packs are."""

    words: str
    measure: str
    size: Fraction
    whole: bool = False

    def times(self, amount: Fraction) -> Fraction:
        """How many times the price is paid for an amount of the measure."""
        number = amount / self.size
        return max(Fraction(1), Fraction(-((_ROUNDING - number) // 1))) if self.whole and amount else number


def read_sale(text: str) -> Sale | None:
    """The unit of sale in words: "board foot", "l", "500 ml", "pack of 50"; None if it is not known."""
    words = " ".join(text.split()).casefold().removeprefix("a ").removeprefix("per ")
    if words in _UNITS:
        measure, size = _UNITS[words]
        return Sale(words, measure, size, measure in ("board", "sheet", "piece"))
    pack = _PACK.fullmatch(words)
    if pack is None or (pack["unit"] or "pieces") not in _UNITS:
        return None
    try:
        count = read_quantity(pack["count"])
    except (UnitProblem, ValueError):
        return None
    measure, size = _UNITS[pack["unit"] or "pieces"]
    return Sale(words, measure, size * count.value, True) if count.is_number and count.value > 0 else None


def near_units(text: str) -> tuple[str, ...]:
    """Known units that look like it."""
    return near(text, _UNITS)


def amount_of(bought: Bought, measure: str) -> Fraction | None:
    """How much of a measure a purchase is, or None where that cannot be told.

    Board feet count a board thinner than one inch as one inch thick (common practice).
    """
    given = {"pieces": "piece", "sheets": "sheet"}.get(bought.unit, bought.unit)
    if given == measure:
        return exact(bought.amount)
    if measure in ("board", "sheet", "piece"):
        return Fraction(bought.count) if bought.size or given in ("piece", "sheet") else None
    if bought.size is None:
        return exact(bought.amount) / BOARD_FOOT_M3 if (measure, given) == ("board foot", "m3") else None
    thickness, width, length = map(exact, bought.size)
    by_measure = {
        "board foot": max(thickness, INCH) * width * length / 10**9 / BOARD_FOOT_M3,
        "m3": thickness * width * length / 10**9,
        "m2": width * length / 10**6,
        "m": length / 1000,
    }
    return bought.count * by_measure[measure] if measure in by_measure else None


def exact(value: float) -> Fraction:
    """A measured number as it is printed, so that sums of money do not carry what binary numbers add."""
    return Fraction(repr(value))
