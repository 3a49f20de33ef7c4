"""Lengths of a sum are printed as fine as the sum asks for."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from planbook.units import INCH_32, INCH_DECIMAL, MM_AND_INCH, MM_TENTH, Chain, added_up, show_fine
from planbook.units.printing import printed
from planbook.units.quantity import Quantity

LENGTHS = st.lists(st.integers(40, 900).map(lambda tenths: Fraction(tenths, 10)), min_size=2, max_size=5)


def chain(*parts: str) -> Chain:
    lengths = tuple(Fraction(part) for part in parts)
    return Chain("", lengths, sum(lengths, Fraction(0)))


def said(sums: Chain, *others: Chain) -> list[str]:
    style = added_up(INCH_32, (sums, *others))
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


def test_what_a_bit_is_named_by_keeps_its_fraction() -> None:
    sums = chain("10", "10", "10", "10")
    style = added_up(replace(INCH_32, bits=(Fraction(10),)), (sums,))
    assert show_fine(Quantity(Fraction(10), 1), style) == "13/32 in"


def test_a_finer_length_of_one_sum_makes_the_other_sums_of_it_finer_where_they_need_it() -> None:
    first, second = chain("43.6", "0.2"), chain("43.8", "0.3")
    assert said(second, first) == ["1.724 in", "0.012 in", "1.736 in"]


def test_millimetres_and_decimal_inches_stay_and_of_two_units_the_inches_are_finer() -> None:
    sums = [chain("43.6", "0.2")]
    assert added_up(MM_TENTH, sums) == MM_TENTH
    assert added_up(INCH_DECIMAL, sums) == INCH_DECIMAL
    both = added_up(MM_AND_INCH, sums)
    assert both.also is not None
    assert show_fine(Quantity(Fraction("43.8"), 1), both) == "43.8 mm (1.724 in)"


@given(st.lists(LENGTHS, min_size=1, max_size=4))
def test_every_sum_is_within_half_a_sixty_fourth_or_as_near_as_thousandths_come(found: list[list[Fraction]]) -> None:
    sums = [Chain("", tuple(parts), sum(parts, Fraction(0))) for parts in found]
    style = added_up(INCH_32, sums)
    for each in sums:
        *parts, total = (printed(mm, style) for mm in each.lengths)
        assert abs(sum(parts) - total) <= max(Fraction(254, 1280), Fraction(254, 20_000) * len(each.lengths))
