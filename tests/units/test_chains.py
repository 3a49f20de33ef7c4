"""Lengths that add up are rounded so that the printed ones add up too, and as near as that allows."""

from fractions import Fraction
from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbook.units import (
    INCH_32,
    INCH_DECIMAL,
    MM_AND_INCH,
    MM_TENTH,
    Chain,
    LengthStyle,
    Quantity,
    is_exact,
    read_quantity,
    settled,
    settled_finely,
    settled_in_rows,
    show_fine,
    show_length,
    unsettled,
)
from planbook.units.printing import per_step

STYLES = (INCH_32, INCH_DECIMAL, MM_TENTH)
LENGTHS = st.integers(4000, 90_000).map(lambda hundredths: Fraction(hundredths, 1000))


def mm(*values: str) -> list[Fraction]:
    return [Fraction(value) for value in values]


def printed(length: Fraction, style: LengthStyle) -> Fraction:
    return read_quantity(show_length(length, style)).value


def test_thirds_of_an_inch_are_shared_out_as_by_the_largest_remainder() -> None:
    # Hamilton's method (apportionment by largest remainders): of 7, 7 and 9 thirty-seconds and what is left over,
    # the length with the largest remainder is rounded up.
    parts = mm("5.7", "5.8", "7.0")
    chain = Chain("whole", tuple(parts), sum(parts, Fraction(0)))
    assert [show_length(part, settled(INCH_32, [chain])) for part in (*parts, chain.total)] == [
        "7/32 in",
        "7/32 in",
        "9/32 in",
        "23/32 in",
    ]


@given(st.lists(LENGTHS, min_size=2, max_size=6, unique=True), st.sampled_from(STYLES))
def test_a_chain_adds_up_or_is_told(parts: list[Fraction], style: LengthStyle) -> None:
    chain = Chain("whole", tuple(parts), sum(parts, Fraction(0)))
    best = settled(style, [chain])
    adds_up = sum((printed(part, best) for part in parts), Fraction(0)) == printed(chain.total, best)
    assert adds_up == (unsettled(style, [chain]) == ())
    for length in chain.lengths:
        assert abs(printed(length, best) - length) < per_step(style)


@given(st.lists(LENGTHS, min_size=2, max_size=4, unique=True), st.sampled_from(STYLES))
def test_no_other_rounding_that_adds_up_is_nearer(parts: list[Fraction], style: LengthStyle) -> None:
    step, lengths = per_step(style), (*parts, sum(parts, Fraction(0)))
    chain = Chain("whole", tuple(parts), lengths[-1])
    exact = [{length / step} if is_exact(length, style) else set() for length in lengths]
    both = [{length // step, -(-length // step), *way} for length, way in zip(lengths, exact, strict=True)]
    errors = [
        sum((way - length / step) ** 2 for way, length in zip(ways, lengths, strict=True))
        for ways in product(*both)
        if sum(ways[:-1]) == ways[-1]
    ]
    best = settled(style, [chain])
    if errors:
        assert sum(((printed(length, best) - length) / step) ** 2 for length in lengths) == min(errors)
    else:
        assert unsettled(style, [chain]) == (chain,)


@pytest.mark.parametrize("style", STYLES)
def test_what_is_exact_stays_exact(style: LengthStyle) -> None:
    one = per_step(style)
    chain = Chain("whole", (100 * one, 200 * one), 300 * one)
    assert settled(style, [chain]) == style


def test_equal_parts_of_an_odd_total_cannot_add_up() -> None:
    half = Fraction(67, 64) * Fraction("25.4")
    chain = Chain("whole", (half, half), 2 * half)
    assert unsettled(INCH_32, [chain]) == (chain,)
    assert settled(INCH_32, [chain]) == INCH_32


def test_chains_that_share_a_length_are_settled_together() -> None:
    a, b, c = mm("10.04", "10.03", "10.02")
    chains = [Chain("low", (a, b), a + b), Chain("high", (a + b, c), a + b + c)]
    style = settled(MM_TENTH, chains)
    for chain in chains:
        assert sum(printed(part, style) for part in chain.parts) == printed(chain.total, style)


def test_both_units_are_settled_each_by_itself() -> None:
    parts = mm("10.04", "10.04", "10.03", "10.06")
    style = settled(MM_AND_INCH, [Chain("whole", tuple(parts), sum(parts, Fraction(0)))])
    metric, inches = zip(*(show_length(p, style).rstrip(")").split(" (") for p in (*parts, sum(parts))), strict=True)
    for told in (metric, inches):
        *some, whole = (read_quantity(text).value for text in told)
        assert sum(some) == whole


def test_lengths_from_solids_are_known_again() -> None:
    parts = mm("10.04", "10.03", "10.04")
    style = settled(MM_TENTH, [Chain("whole", (parts[0], parts[1]), parts[0] + parts[1])])
    near = parts[0] + Fraction(1, 10**6)
    assert show_length(near, style) == show_length(parts[0], style)


def test_thousandths_of_an_inch_add_up_too() -> None:
    """By hand: 0.5, 0.65 and 1.15 mm are 0.0197, 0.0256 and 0.0453 in: 0.020 and 0.026 would make 0.046 in."""
    parts = mm("0.5", "0.65")
    chain = Chain("setback", tuple(parts), sum(parts, Fraction(0)))
    told = [show_fine(Quantity(length, 1), settled_finely(INCH_32, [chain])) for length in chain.lengths]
    assert told == ["0.020 in", "0.025 in", "0.045 in"]
    assert settled_finely(MM_TENTH, [chain]) == MM_TENTH


def test_a_row_of_holes_ends_where_its_first_place_and_its_steps_lead() -> None:
    """By hand, in 64ths: 47 mm is 118.4, 160 mm 403.1 and 207, 367 and 527 mm are 521.6, 924.7 and 1327.9."""
    places, by = mm("47", "207", "367", "527"), Fraction(160)
    rows = [Chain("", (low, by) if low < by else (by, low), high) for low, high in pairwise(places)]
    style = settled_in_rows(INCH_32, rows)
    told = [printed(place, style) for place in places]
    assert [high - low for low, high in pairwise(told)] == [printed(by, style)] * 3
    assert max(abs(one - true) for one, true in zip(told, places, strict=True)) < per_step(INCH_32) / 2
    assert settled_in_rows(INCH_32, rows, kept=[by]) == INCH_32
    assert settled_in_rows(MM_TENTH, rows) == MM_TENTH
