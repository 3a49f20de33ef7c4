"""Quantities know what they are."""

from fractions import Fraction

import pytest

from planbook.units import Quantity


@pytest.mark.parametrize(
    ("length", "angle", "name"),
    [
        (0, 0, "a number"),
        (1, 0, "a length"),
        (2, 0, "an area"),
        (3, 0, "a volume"),
        (0, 1, "an angle"),
        (-1, 0, "one over a length"),
        (4, 0, "a length to the power 4"),
    ],
)
def test_a_quantity_has_a_kind(length: int, angle: int, name: str) -> None:
    quantity = Quantity(Fraction(2), length, angle)
    assert quantity.kind_name == name
    assert quantity.is_number == (name == "a number")
    assert quantity.is_length == (name == "a length")
    assert quantity.is_angle == (name == "an angle")


def test_kinds_are_compared_without_their_values() -> None:
    assert Quantity(Fraction(1), 1).same_kind(Quantity(Fraction(9), 1))
    assert not Quantity(Fraction(1), 1).same_kind(Quantity(Fraction(1), 2))
    assert not Quantity(Fraction(1), 0, 1).same_kind(Quantity(Fraction(1)))
