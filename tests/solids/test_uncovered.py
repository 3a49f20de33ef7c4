"""What of triangles is not behind others: exact areas, and shares from which whatever is linear follows."""

import numpy as np
import pytest

from planbook.solids.frames import Z
from planbook.solids.uncovered import touched, uncovered
from planbook.solids.visible import View
from planbook.solids.visible_front import front_of

ABOVE = View((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), Z)
FLOOR = np.array([[[0.0, 0, 0], [10, 0, 0], [0, 10, 0]]])


def areas(corners) -> np.ndarray:
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    return np.linalg.norm(np.cross(one, two), axis=1) / 2


def parts(before, corners):
    shares, source = uncovered(front_of(before, ABOVE), corners, 0.05)
    assert shares.sum(axis=2) == pytest.approx(1.0)
    return shares @ corners[source]


def test_a_triangle_is_cut_where_another_lies_before_it():
    left = parts(np.array([[[0.0, 0, 5], [4, 0, 5], [0, 4, 5]]]), FLOOR)
    assert areas(left).sum() == pytest.approx(50 - 8)
    assert (left.mean(axis=1)[:, :2].sum(axis=1) > 4).all()


def test_what_rises_through_a_triangle_hides_it_only_where_it_is_above():
    """The tilted one is 0.05 mm above the floor where x is 2."""
    tilted = np.array([[[0.0, 0, 2.05], [4, 0, -1.95], [0, 9, 2.05]]])
    left = parts(tilted, FLOOR)
    assert areas(left).sum() == pytest.approx(50 - (18 - 18 / 4))


def test_what_is_before_nothing_or_all_of_it():
    beside, over = np.array([[[20.0, 0, 5], [24, 0, 5], [20, 4, 5]]]), FLOOR * 3 - [[[5, 5, -1]]]
    assert parts(beside, FLOOR) == pytest.approx(FLOOR)
    assert not touched(front_of(beside, ABOVE), FLOOR, 0.05)
    assert not touched(front_of(FLOOR, ABOVE), FLOOR, 0.05)
    assert not len(parts(over, FLOOR))
    assert touched(front_of(over, ABOVE), FLOOR, 0.05)
