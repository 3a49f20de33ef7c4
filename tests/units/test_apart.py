"""Lengths that a reader compares are not printed alike where half a step tells them apart; sums keep their steps."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbook.units import (
    INCH_32,
    INCH_64,
    INCH_DECIMAL,
    MM_AND_INCH,
    MM_PER_INCH,
    MM_TENTH,
    Chain,
    LengthStyle,
    Quantity,
    bored_alike,
    fine_enough,
    in_fractions,
    in_hundredths,
    in_metric,
    measured_as_given,
    read_quantity,
    show_fine,
    show_length,
    thick_enough,
    told_apart,
    within_leeways,
)

SNUG, LOOSE, RAIL = Fraction("18.1"), Fraction("18.6"), Fraction("18.2")
LENGTHS = st.integers(3200, 60_000).map(lambda hundredths: Fraction(hundredths, 1000))


def test_two_widths_half_a_millimetre_apart_are_told_apart() -> None:
    """By hand: 18.1 mm is 45.6 and 18.6 mm is 46.9 sixty-fourths of an inch (1 in = 25.4 mm, ISO 80000-3)."""
    assert {show_length(width, INCH_32) for width in (SNUG, LOOSE, RAIL)} == {"23/32 in"}
    style = told_apart(INCH_32, [(SNUG, LOOSE, RAIL)])
    assert [show_length(width, style) for width in (SNUG, RAIL, LOOSE)] == ["23/32 in", "23/32 in", "47/64 in"]


def test_lengths_of_different_kinds_keep_their_step() -> None:
    assert told_apart(INCH_32, [(SNUG,), (LOOSE,)]) == INCH_32


def test_what_adds_up_keeps_its_step() -> None:
    chain = Chain("both", (SNUG, LOOSE), SNUG + LOOSE)
    assert told_apart(INCH_32, [(SNUG, LOOSE)], [chain]) == INCH_32


def test_other_units_are_fine_enough_and_of_two_the_inches_are_finer() -> None:
    assert told_apart(MM_TENTH, [(SNUG, LOOSE)]) == MM_TENTH
    assert told_apart(INCH_DECIMAL, [(SNUG, LOOSE)]) == INCH_DECIMAL
    assert show_length(LOOSE, told_apart(MM_AND_INCH, [(SNUG, LOOSE)])) == "18.6 mm (47/64 in)"


@given(st.lists(LENGTHS, min_size=2, max_size=6, unique=True))
def test_no_two_a_sixty_fourth_apart_are_printed_alike(lengths: list[Fraction]) -> None:
    style = told_apart(INCH_32, [lengths])
    for one in lengths:
        assert abs(read_quantity(show_length(one, style)).value - one) <= MM_PER_INCH / 64
        for other in lengths:
            if abs(one - other) >= MM_PER_INCH / 64:
                assert show_length(one, style) != show_length(other, style)


def test_what_stands_side_by_side_is_as_fine_as_it_must_be() -> None:
    """By hand: 1/8 in is 3.175 mm, 9/64 in 3.572 mm; 3.3 mm is 0.130 in and nearer to 1/8 than to 9/64 in."""
    eighth = MM_PER_INCH / 8
    kerf = (eighth * 3 / 4, eighth, eighth * 9 / 8)
    assert [show_length(each, fine_enough(INCH_32, kerf)) for each in kerf] == ["3/32 in", "1/8 in", "9/64 in"]
    near = (eighth, Fraction("3.3"))
    assert [show_length(each, fine_enough(INCH_32, near)) for each in near] == ["0.125 in", "0.13 in"]
    wide = (Fraction("3.2"), Fraction("3.24"))
    assert [show_length(each, fine_enough(MM_TENTH, wide)) for each in wide] == ["3.2 mm", "3.24 mm"]
    assert show_length(near[1], fine_enough(MM_AND_INCH, near)) == "3.3 mm (0.13 in)"
    assert fine_enough(INCH_32, (SNUG, SNUG)) == INCH_32


def test_a_fit_decides_how_finely_a_length_is_told() -> None:
    """By hand: 13/16 in is 20.64 mm, and so is 52/64; 9 21/32 in is 245.27 mm, 9 41/64 in 244.87 mm."""
    slot, place = Fraction("20.5"), Fraction("245")
    for length, leeway, told in (
        (slot, "0.2", "13/16 in"),
        (slot, "0.1", "0.807 in"),
        (place, "0.3", "9 21/32 in"),
        (place, "0.15", "9 41/64 in"),
        (place, "0.1", "9.646 in"),
    ):
        assert show_length(length, within_leeways(INCH_32, [((length,), Fraction(leeway))])) == told


def test_what_a_slot_is_set_by_is_told_in_one_way() -> None:
    """Of 29.75 mm, 1 11/64 in is 0.02 mm off; beside the width of 0.807 in it is told to thousandths, too."""
    slot = (Fraction("29.75"), Fraction("20.5"), Fraction("50.25"))
    style = within_leeways(INCH_32, [(slot, Fraction("0.05"))])
    assert [show_length(length, style) for length in slot] == ["1.171 in", "0.807 in", "1.978 in"]
    assert show_length(Fraction("30"), style) == "1 3/16 in"
    assert show_length(slot[1], within_leeways(MM_AND_INCH, [(slot, Fraction("0.05"))])) == "20.5 mm (0.807 in)"
    assert within_leeways(MM_TENTH, [(slot, Fraction("0.05"))]) == MM_TENTH


@given(st.lists(LENGTHS, min_size=1, max_size=4), st.integers(13, 500), st.sampled_from((INCH_32, MM_TENTH)))
def test_no_length_is_printed_farther_off_than_its_fit_allows(
    lengths: list[Fraction], leeway: int, style: LengthStyle
) -> None:
    allowed = Fraction(leeway, 1000)
    told = within_leeways(style, [(lengths, allowed)])
    for length in lengths:
        assert abs(read_quantity(show_length(length, told)).value - length) <= allowed


def test_a_sheet_sold_by_the_millimetre_is_told_so_among_inches() -> None:
    sheet = Fraction(18)
    style = in_metric(INCH_32, (sheet,))
    assert show_length(sheet, style) == "18 mm (0.709\u00a0in)"
    assert show_length(sheet, replace(style, brief=True)) == "18 mm"
    assert show_length(Fraction("18.1"), style) == "23/32 in"
    assert show_length(sheet, in_metric(MM_AND_INCH, (sheet,))) == "18 mm (0.709 in)"
    assert show_length(sheet, in_metric(MM_TENTH, (sheet,))) == "18 mm"


def test_a_plug_is_told_as_its_hole_and_a_rounding_as_its_bit() -> None:
    """By hand: 10 mm is 25.2/64 in and 12.6/32 in; 1/8 in is 3.175 mm, and half of it 1.5875 mm."""
    ten, eighth = Fraction(10), MM_PER_INCH / 8
    told = bored_alike(INCH_32, [ten, MM_PER_INCH * 15 / 32])
    assert show_length(ten, told) == "25/64 in"
    assert show_length(MM_PER_INCH * 15 / 64, told) == "15/64 in"
    assert [show_length(mm, bored_alike(MM_TENTH, [eighth])) for mm in (eighth, eighth / 2)] == ["3.18 mm", "1.59 mm"]
    assert show_length(ten, bored_alike(MM_AND_INCH, [ten])) == "10 mm (25/64 in)"
    assert bored_alike(INCH_DECIMAL, [ten]) == replace(INCH_DECIMAL, bits=(ten,))


@pytest.mark.parametrize(
    # 20 mm is 50.39/64 in and 28 mm is 70.55/64 in; 8 mm is hardly more than 5/16 in.
    ("mm", "inches"),
    [(20, "25/32 in"), (28, "1 7/64 in"), (8, "5/16 in"), (18, "23/32 in"), (21, "53/64 in")],
)
def test_a_thickness_is_told_finer_only_where_it_would_be_too_thin(mm: int, inches: str) -> None:
    thickness = Fraction(mm)
    assert show_length(thickness, thick_enough(INCH_32, [thickness])) == inches
    assert thick_enough(MM_TENTH, [thickness]) == MM_TENTH


def test_a_fraction_that_would_stand_for_a_length_in_thousandths_is_told_in_thousandths_too() -> None:
    """By hand: 81.4 mm is 3.205 in and 102.6/32 in; 3 7/32 in is 3.219 in, where 81.8 mm is 3.220 in."""
    fit = within_leeways(INCH_32, [((Fraction("81.8"),), Fraction(1, 100))])
    assert [show_length(Fraction(mm), fit) for mm in ("81.8", "81.4")] == ["3.220 in", "3.205 in"]
    assert show_length(Fraction("83.344"), fit) == "3 9/32 in"
    assert show_length(Fraction("3.21875") * MM_PER_INCH, fit) == "3 7/32 in", "what is exact stays a fraction"


def test_what_is_measured_is_told_as_the_length_that_the_design_gives() -> None:
    """Chords lie up to 0.02 mm within a curve; by hand: 5 mm is 12.6/64 in, and 5.0115 mm 6.3/32 in."""
    style = measured_as_given(bored_alike(INCH_32, [Fraction(10)]), [Fraction(5), Fraction("2.25")])
    assert [show_length(Fraction(mm), style) for mm in ("5", "5.0115", "5.2")] == ["13/64 in", "13/64 in", "7/32 in"]
    fine = [show_fine(Quantity(Fraction(mm), 1), style) for mm in ("2.25", "2.2414", "1.5875004")]
    assert fine == ["0.089 in", "0.089 in", "1/16 in"]
    both = measured_as_given(MM_AND_INCH, [Fraction("15.75")])
    assert show_length(Fraction("15.7586"), both) == show_length(Fraction("15.75"), both) == "15.75 mm (5/8 in)"


def test_a_fraction_that_no_rule_tells_from_thousandths_is_told_in_their_place() -> None:
    """By hand: 200 mm is 7.87402 in, 7 7/8 in is 7.875 in; 8 mm is 0.31496 in, 5/16 in is 0.3125 in."""
    fine = within_leeways(INCH_32, [((Fraction(200), Fraction(8)), Fraction("0.02"))])
    assert [show_length(Fraction(mm), fine) for mm in (200, 8)] == ["7.874 in", "0.315 in"]
    assert [show_length(Fraction(mm), in_fractions(fine)) for mm in (200, 8)] == ["7 7/8 in", "0.315 in"]
    both = within_leeways(MM_AND_INCH, [((Fraction(200),), Fraction("0.02"))])
    assert show_length(Fraction(200), in_fractions(both)) == "200 mm (7 7/8 in)"
    assert in_fractions(MM_TENTH) == MM_TENTH


def test_hundredths_of_a_millimetre_on_both_sides_of_an_eighth_of_an_inch() -> None:
    # 3/32 in are 2.38125 mm, 9/64 in are 3.571875 mm.
    ends = [Quantity(Fraction(254 * many, 10 * below), length=1) for many, below in ((3, 32), (9, 64))]
    assert [show_fine(each, in_hundredths(MM_TENTH)) for each in ends] == ["2.38 mm", "3.57 mm"]
    both = replace(MM_TENTH, also=INCH_64)
    assert [show_fine(each, in_hundredths(both)) for each in ends] == ["2.38 mm (3/32 in)", "3.57 mm (9/64 in)"]
    assert in_hundredths(INCH_32) == INCH_32
