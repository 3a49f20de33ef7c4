"""Ends and tests over the short axis, beside numpy's own along it."""

import numpy as np
import pytest

from planbook.solids.columns import LONG, every, least, like, most, some


@pytest.mark.parametrize("rows", [0, 1, LONG - 1, LONG, 4 * LONG])
@pytest.mark.parametrize("shape", [(1,), (3,), (2, 2), (3, 2), (3, 3)])
def test_they_are_those_of_numpy_in_short_and_long_arrays(rows: int, shape: tuple[int, ...]) -> None:
    values = np.random.default_rng(rows).normal(size=(rows, *shape))
    assert np.array_equal(least(values), values.min(axis=1))
    assert np.array_equal(most(values), values.max(axis=1))
    if len(shape) == 1:
        assert np.array_equal(every(values > -1), (values > -1).all(axis=1))
        assert np.array_equal(some(values > 1), (values > 1).any(axis=1))


def test_what_is_no_number_stays_seen() -> None:
    values = np.zeros((2 * LONG, 3))
    values[7, 1] = np.nan
    assert np.flatnonzero(np.isnan(least(values))).tolist() == np.flatnonzero(np.isnan(most(values))).tolist() == [7]


def test_points_that_are_the_same_are_found_together() -> None:
    apart = np.random.default_rng(5).normal(size=(40, 3))
    points = apart[np.random.default_rng(6).integers(0, 40, 600)]
    order, begins = like(points)
    firsts = points[order[begins]]
    assert np.array_equal(firsts[np.cumsum(begins) - 1], points[order])
    assert len(firsts) == len(np.unique(points, axis=0))


def test_points_with_the_same_number_are_not_taken_for_one() -> None:
    # Both lie across the way along which points are sorted, 0 from its start.
    points = np.array([[0.0, 0.0], [np.sqrt(3), -np.sqrt(2)], [0.0, 0.0]])
    order, begins = like(points)
    assert np.array_equal(points[order[begins]][np.cumsum(begins) - 1], points[order])
    assert begins.sum() >= 2
