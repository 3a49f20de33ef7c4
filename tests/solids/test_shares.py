"""Areas divided by tone, and triangles joined."""

import numpy as np
import pytest

from planbook.solids.shares import bands, joined_triangles, overlap, overlaps

SQUARE = ((((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)), ()),)
FRAME = ((SQUARE[0][0], (((2.0, 2.0), (2.0, 8.0), (8.0, 8.0), (8.0, 2.0)),)),)


def grid(left: float, bottom: float, side: float, count: int) -> np.ndarray:
    """Squares of triangles that lie side by side."""
    found = []
    for k in range(count):
        x, y = left + side * k, bottom
        found += [[(x, y), (x + side, y), (x + side, y + side)], [(x, y), (x + side, y + side), (x, y + side)]]
    return np.array(found)


def area(polygons) -> float:
    def ring(points):
        turns = zip(points, (*points[1:], points[0]), strict=True)
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in turns)) / 2

    return sum(ring(outer) - sum(ring(h) for h in holes) for outer, holes in polygons)


def test_bands_divide_an_area_by_level():
    triangles = np.concatenate([grid(0, 0, 5, 2), grid(0, 5, 5, 2)])
    levels = np.array([1, 1, 1, 1, 4, 4, 4, 4])
    found = bands([SQUARE], triangles, np.zeros(8, dtype=np.int64), levels)
    assert {(n, level): area(polygons) for n, level, polygons in found} == {
        (0, 1): pytest.approx(50),
        (0, 4): pytest.approx(50),
    }


def test_bands_keep_several_areas_apart():
    """An area with one level keeps its polygons; triangles of another area do not count in it."""
    triangles = np.concatenate([grid(0, 0, 5, 2), grid(0, 5, 5, 2), grid(0, 0, 10, 1)])
    owners = np.array([1, 1, 1, 1, 1, 1, 1, 1, 0, 0])
    levels = np.array([3, 3, 3, 3, 2, 2, 2, 2, 7, 7])
    found = [*bands([FRAME, SQUARE], triangles, owners, levels)]
    assert found[0] == (0, 7, FRAME)
    assert [(n, level, area(polygons)) for n, level, polygons in found[1:]] == [
        (1, 2, pytest.approx(50)),
        (1, 3, pytest.approx(50)),
    ]


def test_triangles_that_overlap_are_counted_once():
    assert area(joined_triangles(np.concatenate([grid(0, 0, 4, 1), grid(2, 0, 4, 1)]))) == pytest.approx(24)
    assert area(joined_triangles(grid(0, 0, 3, 4))) == pytest.approx(36)
    assert joined_triangles(np.empty((0, 3, 2))) == ()


@pytest.mark.parametrize(("more", "covered"), [([], 400), ([(39.5, 0.0), (12.25, 0.5)], 400.5), ([(60.0, 3.0)], 401)])
def test_a_few_of_many_triangles_may_lie_over_others(more, covered):
    """A strip 40 by 10 in squares of two triangles, and single squares of 1: half beyond its end, wholly over it, apart."""
    strip = np.concatenate([grid(0, row, 1, 40) for row in range(10)])
    joined = joined_triangles(np.concatenate([strip, *(grid(x, y, 1, 1) for x, y in more)]))
    assert area(joined) == pytest.approx(covered)


def test_triangles_with_corners_on_the_sides_of_others_are_joined():
    fine, coarse = grid(0, 0, 1, 6), grid(0, 1, 3, 2)
    joined = joined_triangles(np.concatenate([fine, coarse]))
    assert len(joined) == 1
    assert area(joined) == pytest.approx(6 + 18)


def test_overlap_is_the_common_ground():
    shifted = tuple((tuple((x + 6, y) for x, y in outer), holes) for outer, holes in SQUARE)
    assert area(overlap(SQUARE, shifted)) == pytest.approx(40)
    assert area(overlap(FRAME, shifted)) == pytest.approx(40 - 12)
    assert overlap(SQUARE, ()) == ()


def test_overlaps_of_many_are_those_of_each():
    shifted = tuple((tuple((x + 6, y) for x, y in outer), holes) for outer, holes in SQUARE)
    assert overlaps([SQUARE, (), FRAME], shifted) == [overlap(each, shifted) for each in (SQUARE, (), FRAME)]
    assert overlaps([], SQUARE) == []
