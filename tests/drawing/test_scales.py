"""Scales that rows of pictures share: nothing outgrows its paper, nothing gets too small, and the rows cost least."""

import math
import random
from itertools import combinations, pairwise

import pytest

from planbook.drawing import scales
from planbook.drawing.scales import shared_scales


def drawn(seed: int, count: int) -> tuple[list[float], list[bool]]:
    chance = random.Random(seed)
    own = [0.1 * math.exp(chance.gauss(0.0, 0.35)) for _ in range(count)]
    return own, [chance.random() < 0.4 for _ in own]


@pytest.mark.parametrize("seed", range(8))
def test_no_picture_outgrows_its_paper_or_gets_small_for_its_neighbours(seed):
    own, strange = drawn(seed, 30)
    shared = shared_scales(own, strange)
    for mine, given in zip(own, shared, strict=True):
        assert given is not None
        assert mine / 1.5 / 1.03 <= given <= mine * (1 + 1e-9)


@pytest.mark.parametrize("seed", range(8))
def test_rows_cost_no_more_than_any_other_rows(seed):
    """All ways to part nine pictures into rows are tried, and reckoned by hand."""
    own, strange = drawn(seed, 9)
    found = cost(own, strange, rows_of(shared_scales(own, strange)))
    least = min(
        cost(own, strange, [0, *breaks, 9]) for k in range(9) for breaks in map(list, combinations(range(1, 9), k))
    )
    assert found == pytest.approx(least, abs=1e-9)


def rows_of(shared: tuple[float | None, ...]) -> list[int]:
    changes = [n for n, (a, b) in enumerate(pairwise(shared), 1) if a != b]
    return [0, *changes, len(shared)]


def cost(own: list[float], strange: list[bool], ends: list[int]) -> float:
    rows = [[math.log(each) for each in own[a:b]] for a, b in pairwise(ends)]
    if any(max(row) - min(row) > math.log(1.5) for row in rows):
        return math.inf
    lost = sum(each - min(row) for row in rows for each in row)
    for (one, two), start in zip(pairwise(rows), ends[1:], strict=False):
        by = abs(min(one) - min(two))
        if by > scales.EVEN:
            lost += (scales.STRANGE if strange[start] else 1.0) * (scales.STEP + scales.HEIGHT * by)
    return lost


def test_one_small_picture_does_not_make_a_long_row_small():
    own = [0.115, 0.115, *[0.139] * 6]
    shared = shared_scales(own)
    assert len({*shared[:2]}) == len({*shared[2:]}) == 1
    assert shared[2] > 0.13


def test_the_same_pieces_keep_their_size_rather_than_others():
    assert len({*shared_scales([0.26, 0.33], [True, False])}) == 1
    assert len({*shared_scales([0.26, 0.33], [True, True])}) == 2


def test_a_row_does_not_change_with_a_hair():
    """So that a picture that takes up a little more room does not have its neighbours drawn again."""
    changed = [shared_scales([0.25, 0.2 * (1 + k / 1000)]) for k in range(30)]
    assert len({first for first, _ in changed}) <= 2
    assert all(first == second for first, second in changed)


def test_what_shows_nothing_has_no_scale_and_parts_no_row():
    shared = shared_scales([None, 0.2, None, 0.21, None])
    assert [each is None for each in shared] == [True, False, True, False, True]
    assert shared[1] == shared[3]
    assert shared_scales([]) == ()
    assert shared_scales([None]) == (None,)


def test_a_thousand_pictures_are_weighed():
    own, strange = drawn(3, 1000)
    assert len(shared_scales(own, strange)) == 1000
