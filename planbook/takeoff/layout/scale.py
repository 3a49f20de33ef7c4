"""Turns exact lengths and money into whole numbers and back; nothing is rounded."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm


@dataclass(frozen=True, slots=True)
class Scale:
    """One whole unit is `unit`: the largest that measures every value exactly."""

    unit: Fraction

    def whole(self, value: Fraction) -> int:
        """The value in units."""
        return int(value / self.unit)

    def exact(self, units: int) -> Fraction:
        """Units as a value again."""
        return units * self.unit


def scale_of(values: Iterable[Fraction]) -> Scale:
    """The scale of some values (1 if all are zero)."""
    some = [Fraction(value) for value in values if value]
    below = lcm(*(value.denominator for value in some))
    above = gcd(*(int(value * below) for value in some))
    return Scale(Fraction(above or 1, below))
