"""Lengths of a sum are printed as fine as the sum asks for."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from planbook.units import (
    INCH_32,
    INCH_DECIMAL,
    MM_AND_INCH,
    MM_TENTH,
    Chain,
    Sum,
    added_up,
    show_fine,
    show_length,
    within_leeways,
)
from planbook.units.printing import printed
from planbook.units.quantity import Quantity

LENGTHS = st.lists(st.integers(40, 900).map(lambda tenths: Fraction(tenths, 10)), min_size=2, max_size=5)


def chain(*parts: str) -> Chain:
    lengths = tuple(Fraction(part) for part in parts)
    return Chain("", lengths, sum(lengths, Fraction(0)))


def said(sums: Chain, *others: Chain) -> list[str]:
    style = added_up(INCH_32, [*map(Sum, (sums, *others))])
    return [show_fine(Quantity(mm, 1), style) for mm in sums.lengths]


def test_fractions_stay_where_their_sum_is_near_enough() -> None:
    """By hand: 25.4 and 50.8 are whole inches; 20 and 30.8 are 0.7874 and 1.2126, so 25/32 and 1 7/32 make 2."""
    assert said(chain("25.4", "50.8")) == ["1 in", "2 in", "3 in"]
    assert said(chain("20", "30.8")) == ["25/32 in", "1 7/32 in", "2 in"]


def test_a_sum_that_is_half_a_step_off_is_told_on_the_next_finer_step() -> None:
    """By hand: 19 mm is 0.748 in, 17.1 mm 0.673 in: 3/4 and 11/16 are 1 7/16, the sum is 1 27/64."""
    assert said(chain("19", "17.1")) == ["3/4 in", "43/64 in", "1 27/64 in"]


def test_a_sum_that_no_fraction_comes_near_is_told_in_thousandths() -> None:
    """By hand: four layers of 10 mm, 0.394 in each, are 40 mm or 1.575 in."""
    assert said(chain("10", "10", "10", "10")) == ["0.394 in"] * 4 + ["1.575 in"]


def test_what_is_sanded_off_is_not_lost_in_what_is_left() -> None:
    """By hand: 43.8 mm less 0.2 mm; both would be 1 23/32 in."""
    assert said(chain("43.6", "0.2")) == ["1.717 in", "0.008 in", "1.724 in"]


def test_what_a_bit_is_named_by_keeps_its_fraction_where_its_sums_allow_it() -> None:
    """By hand: 10 mm is 0.394 in, 13/32 in is 0.406; with an inch it makes 1 13/32, as 35.4 mm are told; four do not."""
    near, far = chain("10", "25.4"), chain("10", "10", "10", "10")
    for sums, told in ((near, "13/32 in"), (far, "0.394 in")):
        style = added_up(replace(INCH_32, bits=(Fraction(10),)), [Sum(sums)])
        assert show_fine(Quantity(Fraction(10), 1), style) == told


def test_where_one_length_of_a_sum_is_told_in_thousandths_all_of_them_are() -> None:
    parts = (Fraction("573.4"), Fraction("0.6"))
    inner, outer = Chain("loose", parts, Fraction(574)), Chain("outer", (Fraction(574), Fraction(26)), Fraction(600))
    sums = [Sum(each, None, Fraction(1, 10)) for each in (outer, inner)]
    style = added_up(within_leeways(INCH_32, [((parts[0],), Fraction(1, 100))]), sums)
    told = [show_length(Fraction(str(mm)), style) for mm in (573.4, 574, 26, 600)]
    assert told == ["22.575 in", "22.598 in", "1.024 in", "23.622 in"]
    assert added_up(INCH_32, sums) == INCH_32


def test_a_fraction_is_not_added_to_thousandths_that_it_puts_off() -> None:
    """By hand: 12 mm is 0.472 in, 15/32 in is 0.469; with 0.043 and 4.367 in it is the 4.882 in of 124 mm."""
    first, other = chain("12", "110.9", "1.1"), chain("110.7", "0.2")
    assert said(first) == ["15/32 in", "4 23/64 in", "0.043 in", "4 7/8 in"]
    assert said(first, other) == ["0.472 in", "4.366 in", "0.043 in", "4.882 in"]


def test_a_finer_length_of_one_sum_makes_the_other_sums_of_it_finer_where_they_need_it() -> None:
    first, second = chain("43.6", "0.2"), chain("43.8", "0.3")
    assert said(second, first) == ["1.724 in", "0.012 in", "1.736 in"]


def test_millimetres_and_decimal_inches_stay_and_of_two_units_the_inches_are_finer() -> None:
    sums = [Sum(chain("43.6", "0.2"))]
    assert added_up(MM_TENTH, sums) == MM_TENTH
    assert added_up(INCH_DECIMAL, sums) == INCH_DECIMAL
    both = added_up(MM_AND_INCH, sums)
    assert both.also is not None
    assert show_fine(Quantity(Fraction("43.8"), 1), both) == "43.8 mm (1.724 in)"


@given(st.lists(LENGTHS, min_size=1, max_size=4))
def test_every_sum_is_within_half_a_sixty_fourth_or_as_near_as_thousandths_come(found: list[list[Fraction]]) -> None:
    sums = [Chain("", tuple(parts), sum(parts, Fraction(0))) for parts in found]
    style = added_up(INCH_32, [*map(Sum, sums)])
    for each in sums:
        *parts, total = (printed(mm, style) for mm in each.lengths)
        assert abs(sum(parts) - total) <= max(Fraction(254, 1280), Fraction(254, 20_000) * len(each.lengths))
