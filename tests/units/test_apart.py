"""Lengths that a reader compares are not printed alike where half a step tells them apart; sums keep their steps."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from planbook.units import (
    INCH_32,
    INCH_DECIMAL,
    MM_AND_INCH,
    MM_PER_INCH,
    MM_TENTH,
    Chain,
    fine_enough,
    read_quantity,
    show_length,
    told_apart,
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
