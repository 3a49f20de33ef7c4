"""An exact value with its dimension, and the arithmetic of dimensions (not its text)."""

from dataclasses import dataclass
from fractions import Fraction

MM_PER_INCH = Fraction(127, 5)
"""Exactly 25.4 mm: the international yard and pound agreement of 1959 (1 yd = 0.9144 m)."""

LARGEST = 10**7
"""The largest length taken, in millimetres (10 km), and the largest angle, in degrees."""
LARGEST_NUMBER = 10**18
HIGHEST_POWER = 9
_MOST_BITS = 512
_DECIMALS_KEPT = 30

_KIND_NAMES = {0: "a number", 1: "a length", 2: "an area", 3: "a volume", -1: "one over a length"}


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact value: `value` is in millimetres to the power `length`, times degrees to the power `angle`.

    `angle` is 0 or 1, and only one of the two exponents is ever other than 0.
    """

    value: Fraction
    length: int = 0
    angle: int = 0

    @property
    def is_number(self) -> bool:
        """Whether this is a plain number without a unit."""
        return self.length == 0 and self.angle == 0

    @property
    def is_length(self) -> bool:
        """Whether this is a length, in millimetres."""
        return self.length == 1 and self.angle == 0

    @property
    def is_angle(self) -> bool:
        """Whether this is an angle, in degrees."""
        return self.length == 0 and self.angle == 1

    @property
    def kind_name(self) -> str:
        """What this is, with its article: "a length", "a number", "an angle", "an area", "a volume"."""
        if self.angle:
            return "an angle"
        return _KIND_NAMES.get(self.length, f"a length to the power {self.length}")

    def same_kind(self, other: "Quantity") -> bool:
        """Whether the two may be added or compared."""
        return self.length == other.length and self.angle == other.angle

    def with_value(self, value: Fraction) -> "Quantity":
        """Return the same kind of quantity with another value."""
        return Quantity(value, self.length, self.angle)


def in_range(quantity: Quantity) -> bool:
    """Whether a value is small enough to mean something in a workshop (and to be computed quickly)."""
    power = abs(quantity.length)
    if power > HIGHEST_POWER:
        return False
    most = LARGEST_NUMBER if quantity.is_number else LARGEST ** max(1, power)
    return abs(quantity.value) <= most


def tidied(quantity: Quantity) -> Quantity:
    """Return the quantity, with a fraction of more than 512 bits rounded to 30 decimals.

    Without this, a chain of sizes that each square the one before would double its digits at every
    link and never finish.
    """
    if quantity.value.denominator.bit_length() <= _MOST_BITS:
        return quantity
    return quantity.with_value(round(quantity.value, _DECIMALS_KEPT))
