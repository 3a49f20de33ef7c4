"""Printing lengths and other quantities, and reading them back."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.units import (
    INCH_16,
    INCH_32,
    INCH_64,
    MM_HALF,
    MM_PER_INCH,
    MM_TENTH,
    MM_WHOLE,
    LengthStyle,
    Quantity,
    is_exact,
    read_length,
    read_quantity,
    show_at_least,
    show_length,
    show_quantity,
    to_mm_text,
)

MARKED = LengthStyle("in", Fraction(1, 32), marks=True)
STYLES = [INCH_64, INCH_32, INCH_16, MM_TENTH, MM_HALF, MM_WHOLE, MARKED]

millimetres = st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**6)


def inches(value: str) -> Fraction:
    return Fraction(value) * MM_PER_INCH


@pytest.mark.parametrize(
    ("mm", "style", "text"),
    [
        (inches("7/2"), INCH_32, "3 1/2 in"),
        (inches("7/2"), MARKED, '3-1/2"'),
        (inches("-7/2"), MARKED, '-3-1/2"'),
        (inches("1/32"), MARKED, '1/32"'),
        (inches("-1/32"), INCH_32, "-1/32 in"),
        (inches("-7/2"), INCH_32, "-3 1/2 in"),
        (inches("30"), INCH_32, "30 in"),
        (inches("-1/100"), INCH_32, "0 in"),
        (Fraction(0), INCH_64, "0 in"),
        (Fraction(90), MM_HALF, "90 mm"),
        (Fraction("89.5"), MM_HALF, "89.5 mm"),
        (Fraction("-0.04"), MM_TENTH, "0 mm"),
        (Fraction("-0.06"), MM_TENTH, "-0.1 mm"),
        (Fraction(1000), MM_WHOLE, "1000 mm"),
    ],
)
def test_a_length_is_printed_in_its_style(mm: Fraction, style: LengthStyle, text: str) -> None:
    assert show_length(mm, style) == text


# Ties go to the even step: the rule of IEEE 754, and of Python's own `round`.
@pytest.mark.parametrize(
    ("size", "text"),
    [
        ("1/128", "0 in"),
        ("3/128", "1/32 in"),
        ("5/128", "1/32 in"),
        ("7/128", "1/16 in"),
        ("-3/128", "-1/32 in"),
    ],
)
def test_a_tie_goes_to_the_even_sixty_fourth(size: str, text: str) -> None:
    assert show_length(inches(size), INCH_64) == text


@pytest.mark.parametrize(("mm", "text"), [("0.5", "0 mm"), ("1.5", "2 mm"), ("2.5", "2 mm"), ("-2.5", "-2 mm")])
def test_a_tie_goes_to_the_even_millimetre(mm: str, text: str) -> None:
    assert show_length(Fraction(mm), MM_WHOLE) == text


@pytest.mark.parametrize(("size", "text"), [("32/64", "1/2 in"), ("48/64", "3/4 in"), ("2/64", "1/32 in")])
def test_a_fraction_is_reduced(size: str, text: str) -> None:
    assert show_length(inches(size), INCH_64) == text


# Half a step: 1/128 in, which is 0.1984375 mm by 1 in = 25.4 mm.
def test_the_worst_rounding_error_of_a_sixty_fourth_is_reached_and_known() -> None:
    worst = inches("1/128")
    assert worst == Fraction("0.1984375")
    assert abs(read_length(show_length(inches("3/128"), INCH_64)) - inches("3/128")) == worst


@settings(deadline=None)
@given(mm=millimetres, style=st.sampled_from(STYLES))
def test_a_printed_length_reads_back_to_the_nearest_step(mm: Fraction, style: LengthStyle) -> None:
    text = show_length(mm, style)
    step = style.step * (MM_PER_INCH if style.unit == "in" else 1)
    again = read_length(text)
    assert abs(again - mm) <= step / 2
    # What lies half-way between two tenths of a millimetre has one more place.
    half_way = style.unit == "mm" and abs(again - mm) < Fraction(1, 2000) and again % step == step / 2
    assert again % step == 0 or half_way
    assert is_exact(again, style)
    assert is_exact(mm, style) == (again == mm)
    assert show_length(again, style) == text
    assert text.split()[0] != "-0"


@pytest.mark.parametrize(
    ("mm", "style", "text"),
    [
        ("21", INCH_32, "27/32 in"),  # 26.46 thirty-seconds; 13/16 in would be 20.64 mm
        ("18", INCH_32, "23/32 in"),  # 45.4 sixty-fourths, and 23/32 in is 18.26 mm already
        ("220", INCH_32, "8 11/16 in"),  # 277.2 thirty-seconds
        ("25.4", INCH_32, "1 in"),
        ("2", INCH_32, "0.079 in"),
        ("18.04", MM_TENTH, "18.1 mm"),
    ],
)
def test_what_must_not_be_too_thin_is_printed_as_no_less(mm: str, style: LengthStyle, text: str) -> None:
    assert show_at_least(Fraction(mm), style) == text


@settings(deadline=None)
@given(mm=st.fractions(min_value=1, max_value=3000, max_denominator=1000), style=st.sampled_from([INCH_32, MM_TENTH]))
def test_no_less_than_a_length_and_no_more_than_a_step_above_it(mm: Fraction, style: LengthStyle) -> None:
    again = read_length(show_at_least(mm, style))
    nominal = style.unit == "in" and again % (MM_PER_INCH / 4) == 0
    assert (
        mm - (Fraction(1, 10) if nominal else Fraction(1, 1000))
        <= again
        <= mm + style.step * (MM_PER_INCH if style.unit == "in" else 1)
    )


@settings(deadline=None)
@given(sixty_fourths=st.integers(-(10**6), 10**6))
def test_every_sixty_fourth_is_printed_exactly_in_inches_and_millimetres(sixty_fourths: int) -> None:
    mm = Fraction(sixty_fourths, 64) * MM_PER_INCH
    assert read_length(show_length(mm, INCH_64)) == mm
    assert read_length(to_mm_text(mm)) == mm


def test_an_inexact_print_is_told() -> None:
    assert is_exact(inches("1/32"), INCH_32)
    assert not is_exact(inches("1/64"), INCH_32)
    assert not is_exact(Fraction(1), INCH_64)
    assert is_exact(Fraction("19.5"), MM_HALF)
    assert not is_exact(inches("3/4"), MM_HALF)


@pytest.mark.parametrize(
    ("quantity", "style", "text"),
    [
        (Quantity(inches("3/4"), length=1), INCH_16, "3/4 in"),
        (Quantity(Fraction("22.5"), angle=1), INCH_16, "22.5°"),
        (Quantity(Fraction(-45), angle=1), MM_HALF, "-45°"),
        (Quantity(Fraction(7)), INCH_16, "7"),
        (Quantity(Fraction(1, 3)), INCH_16, "0.3333"),
        (Quantity(Fraction(-1, 10**9)), INCH_16, "0"),
        (Quantity(inches("5/2") ** 2, length=2), INCH_16, "6.25 in²"),
        (Quantity(Fraction(1000), length=3), MM_HALF, "1000 mm³"),
        (Quantity(Fraction(1, 4), length=-1), MM_HALF, "0.25 mm^-1"),
    ],
)
def test_any_quantity_can_be_printed(quantity: Quantity, style: LengthStyle, text: str) -> None:
    assert show_quantity(quantity, style) == text


@settings(deadline=None)
@given(hundredths=st.integers(-36000, 36000))
def test_a_printed_angle_reads_back(hundredths: int) -> None:
    angle = Quantity(Fraction(hundredths, 100), angle=1)
    assert read_quantity(show_quantity(angle, MM_HALF)) == angle


@pytest.mark.parametrize(
    ("mm", "text"),
    [("0.396875", "0.396875 mm"), ("90", "90 mm"), ("-0.0000001", "0 mm"), ("-1.50", "-1.5 mm")],
)
def test_millimetres_are_printed_as_decimals_without_trailing_noughts(mm: str, text: str) -> None:
    assert to_mm_text(Fraction(mm)) == text


def test_a_style_must_be_printable() -> None:
    with pytest.raises(ValueError, match="more than zero"):
        LengthStyle("in", Fraction(0))
    with pytest.raises(ValueError, match="finite decimal"):
        LengthStyle("mm", Fraction(1, 3))


def test_half_a_tenth_of_a_millimetre_is_told() -> None:
    """Both sides of a groove of 20.5 mm in the middle of 80 mm, so that it is 20.5 mm wide in print, too."""
    halves = [show_length(Fraction(mm), MM_TENTH) for mm in ("29.75", "50.25", "449.05", "449.04", "449.06")]
    assert halves == ["29.75 mm", "50.25 mm", "449.05 mm", "449 mm", "449.1 mm"]
    assert show_length(Fraction(449.05), MM_TENTH) == "449.05 mm"  # as a float has it
    assert show_length(Fraction("29.75"), MM_HALF) == "30 mm"


def test_what_was_written_for_so_many_quarters_of_an_inch_is_bought_as_that() -> None:
    """By hand: 1 1/4 in is 31.75 mm and 1/4 in 6.35 mm; 31.9 mm is more than the tenth too much."""
    told = [show_at_least(Fraction(mm), INCH_32) for mm in ("31.8", "6.4", "31.9")]
    assert told == ["1 1/4 in", "1/4 in", "1 9/32 in"]
