"""Drills are named as they are bought, in the units of the edition first unless they are of the other ones."""

from fractions import Fraction

import pytest

from planbook.units import (
    INCH_32,
    INCH_DECIMAL,
    MM_AND_INCH,
    MM_TENTH,
    LengthStyle,
    bored_alike,
    is_half_of_a_bit,
    show_drill,
)


@pytest.mark.parametrize(
    ("mm", "style", "said"),
    [
        (6.35, INCH_32, "1/4 in"),
        (Fraction(254, 10) * 13 / 64, INCH_32, "13/64 in"),
        (10.0, INCH_32, "10 mm (≈ 25/64 in)"),  # 25/64 in is 9.92 mm, 13/32 in 10.32 mm
        (9.77, INCH_32, "≈ 25/64 in (9.77 mm)"),
        (4.7625, INCH_DECIMAL, "0.1875 in"),
        (10.0, MM_TENTH, "10 mm"),
        (6.35, MM_TENTH, "6.35 mm (1/4 in)"),
        (9.77, MM_TENTH, "9.77 mm"),
        (3.1750012, MM_TENTH, "3.18 mm (1/8 in)"),  # as measured on a solid
        (12.7, MM_AND_INCH, "12.7 mm (1/2 in)"),
        (12.0, MM_AND_INCH, "12 mm (≈ 15/32 in)"),
    ],
)
def test_a_drill_is_named_as_it_is_bought(mm: float | Fraction, style: LengthStyle, said: str) -> None:
    assert show_drill(mm, style).replace("\u00a0", " ") == said


def test_no_line_ends_in_the_brackets_of_a_drill() -> None:
    assert show_drill(10.0, INCH_32) == "10 mm (≈\u00a025/64\u00a0in)"
    assert show_drill(9.77, INCH_32) == "≈\u00a025/64\u00a0in (9.77\u00a0mm)"


def test_a_radius_is_that_of_a_bit_where_half_of_the_printed_bit_is_another_figure() -> None:
    """By hand: of a bit of 25/64 in the half is no 64th; 12 mm is told as 15/32 in, and its half as 15/64 in."""
    style = bored_alike(INCH_32, [Fraction(10), Fraction(12)])
    assert [is_half_of_a_bit(mm, style) for mm in (5.0, 5.0004, 6.0, 7.0)] == [True, True, False, False]
    assert not is_half_of_a_bit(5.0, bored_alike(MM_TENTH, [Fraction(10)]))
