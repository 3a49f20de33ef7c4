"""Bounds never exceed what is known to be possible, and the exact parts under them are exact."""

import itertools
import json
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbook.takeoff.layout.bounds import Flat, Size, by_number, functions, least_cost, lifted
from planbook.takeoff.layout.clear import clear_rectangles, divisions
from planbook.takeoff.layout.knapsack import Fill, grid
from planbook.takeoff.layout.relax import Bars, relax

DATA = Path(__file__).parent / "layout_data"


def test_bounds_never_exceed_the_best_known_number_of_sheets() -> None:
    for row in json.loads((DATA / "sheets.json").read_text(encoding="utf-8"))["instances"][::12]:
        parts = [Flat(w, h, n, True) for w, h, n in row["parts"]]
        assert least_cost(parts, [Size(*row["sheet"], 1)], 10**9) <= row["best_rotating"]


@given(st.integers(4, 30), st.lists(st.integers(1, 30), min_size=1, max_size=4))
def test_functions_are_dual_feasible(capacity: int, sizes: list[int]) -> None:
    sizes = [min(size, capacity) for size in sizes]
    for values, top in functions(capacity, sizes):
        for counts in itertools.product(range(4), repeat=len(sizes)):
            if sum(n * s for n, s in zip(counts, sizes, strict=True)) <= capacity:
                assert sum(n * v for n, v in zip(counts, values, strict=True)) <= top


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(0, 3), st.integers(0, 20)), min_size=1, max_size=4))
def test_a_fill_is_the_best_of_all(rows: list[tuple[int, int, int]]) -> None:
    sizes, most, worth = zip(*rows, strict=True)
    fill = Fill(12, sizes, most)
    best = max(
        sum(n * w for n, w in zip(counts, worth, strict=True))
        for counts in itertools.product(*(range(m + 1) for m in most))
        if sum(n * s for n, s in zip(counts, sizes, strict=True)) <= 12
    )
    value, counts = fill.best(np.array(worth, dtype=float))
    assert fill.most(worth) == best == value
    assert sum(n * s for n, s in zip(counts, sizes, strict=True)) <= 12
    assert sum(n * w for n, w in zip(counts, worth, strict=True)) == best


def test_the_relaxation_of_a_textbook_problem_is_its_published_value() -> None:
    # Chvatal, Linear Programming (1983), ch. 13: 452.25 bars of 100 in.
    demand = (97, 610, 395, 211)
    found = relax(Bars((45, 36, 31, 14), demand, demand, ((100, 1),)))
    assert Fraction("452.24") < found.bound <= Fraction("452.25")


def test_a_coarse_grid_errs_on_the_safe_side() -> None:
    length, sizes = 2_438_400, [609_601, 1_219_199]
    down, up = grid(length, sizes), grid(length, sizes, up=True)
    for size, low, high in zip(sizes, down[1], up[1], strict=True):
        assert Fraction(low, down[0]) <= Fraction(size, length) <= Fraction(high, up[0])


@given(
    st.lists(
        st.tuples(st.integers(0, 18), st.integers(0, 28), st.integers(1, 8), st.integers(1, 8)),
        max_size=3,
    ),
    st.integers(0, 3),
)
def test_divisions_keep_clear_of_defects_and_of_each_other(defects: list[tuple[int, int, int, int]], kerf: int) -> None:
    wide, high = 20 + kerf, 30 + kerf
    ways = [*divisions(wide, high, defects, kerf)]
    ways.extend((rect,) for rect in clear_rectangles(wide, high, defects, kerf))
    for way in ways:
        for x, y, w, h in way:
            assert x >= 0 <= y
            assert x + w <= wide
            assert y + h <= high
            for dx, dy, dw, dh in defects:
                assert x >= dx + dw or x + w - kerf <= dx or y >= dy + dh or y + h - kerf <= dy
        for (ax, ay, aw, ah), (bx, by, bw, bh) in itertools.combinations(way, 2):
            assert ax >= bx + bw or bx >= ax + aw or ay >= by + bh or by >= ay + ah


@pytest.mark.parametrize(
    ("prices", "bound", "cost", "least"),
    [
        ((6, 10), 7, 20, 10),
        ((6, 10), 13, 30, 16),
        ((5,), 11, 20, 15),
        ((6, 9), 7, 12, 9),
        ((0, 4), 3, 8, 3),
        ((4,), 8, 8, 8),
    ],
)
def test_a_bound_is_lifted_to_the_next_sum_of_whole_stocks(prices, bound, cost, least):
    assert lifted(bound, prices, cost) == least


def test_counting_sees_that_two_wide_parts_never_share_a_width():
    # Two of 6 do not fit side by side on 10, and two of 7 not on 10 along it: one part a sheet, whatever the area.
    parts = [Flat(6, 7, 5, turn=False)]
    assert by_number(parts, [Size(10, 10, 3)]) == 15
    # A longer sheet holds two; three of them and no small one are cheaper for 5: 2 + 2 + 1.
    assert by_number(parts, [Size(10, 10, 3), Size(10, 14, 5)]) == 13


def test_counting_takes_parts_that_may_be_turned_by_their_shorter_side():
    assert by_number([Flat(4, 9, 2, turn=True)], [Size(10, 10, 1)]) == 1
    assert by_number([Flat(6, 9, 2, turn=True)], [Size(10, 10, 1)]) == 2


def test_counting_needs_some_parts():
    assert by_number([], [Size(10, 10, 1)]) == 0
