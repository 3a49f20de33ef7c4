"""Areas divided among parts, by hand."""

import math

import numpy as np
import pytest

from planbook.solids.parts import Parts, divided

SQUARE = ((((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)), ()),)


def box(left: float, bottom: float, right: float, top: float) -> list[list[tuple[float, float]]]:
    """Two triangles that fill a rectangle."""
    a, b, c, d = (left, bottom), (right, bottom), (right, top), (left, top)
    return [[a, b, c], [a, c, d]]


def told(*boxes: tuple[int, int, tuple[float, float, float, float], bool]) -> Parts:
    """Parts from the number of an area, that of a part, a rectangle, and whether it goes before others."""
    numbers = np.repeat([(area, part, run, over) for run, (area, part, _, over) in enumerate(boxes)], 2, axis=0)
    triangles = np.array([triangle for _, _, rectangle, _ in boxes for triangle in box(*rectangle)])
    return Parts(triangles, numbers[:, 0], numbers[:, 1], numbers[:, 2], numbers[:, 3].astype(bool))


def area(polygons) -> float:
    def ring(points):
        turns = zip(points, (*points[1:], points[0]), strict=True)
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in turns)) / 2

    return sum(ring(outer) - sum(ring(h) for h in holes) for outer, holes in polygons)


def test_what_parts_leave_is_the_ground_if_it_is_most():
    ((number, ((ground, whole), (part, share)), (seam,)),) = divided([SQUARE], told((0, 3, (0, 0, 10, 2), False)))
    assert (number, ground, part) == (0, 0, 3)
    assert whole == SQUARE
    assert area(share) == pytest.approx(20)
    assert {round(p[1], 2) for p in seam} == {2.0}
    assert math.dist(seam[0], seam[-1]) == pytest.approx(10, abs=0.05)


def test_a_part_that_is_most_is_the_ground_and_what_is_left_lies_on_it():
    ((_, ((ground, whole), (rest, share)), _),) = divided([SQUARE], told((0, 1, (0, 0, 10, 8), False)))
    assert (ground, whole, rest) == (1, SQUARE, 0)
    assert area(share) == pytest.approx(20)


def test_a_part_that_is_everywhere_leaves_nothing_and_has_no_seam():
    for edge in (0.0, 1.0, -0.0004):  # corners of pictures are on a grid
        part = told((0, 1, (-edge, -edge, 10 + edge, 10 + edge), False))
        assert list(divided([SQUARE], part)) == [(0, [(1, SQUARE)], ())]


def test_runs_that_touch_are_one_part_without_a_seam_between():
    ((_, shares, seams),) = divided([SQUARE], told((0, 1, (0, 0, 3, 2), False), (0, 1, (3, 0, 10, 2), False)))
    assert [area(polygons) for _, polygons in shares] == pytest.approx([100, 20])
    assert len(shares[1][1]) == len(seams) == 1


def test_what_lies_over_others_is_taken_from_them():
    parts = told((0, 1, (0, 0, 10, 2), False), (0, 1, (8, 8, 10, 10), True), (0, 2, (0, 0, 1, 1), True))
    ((_, shares, _),) = divided([SQUARE], parts)
    assert {part: round(area(polygons), 6) for part, polygons in shares} == {0: 100, 1: 20 - 1 + 4, 2: 1}


def test_areas_are_divided_each_by_its_own():
    far = tuple((tuple((x + 20, y) for x, y in outer), holes) for outer, holes in SQUARE)
    parts = told((0, 1, (0, 0, 10, 2), False), (2, 1, (20, 0, 30, 3), False), (2, 1, (0, 0, 10, 3), False))
    found = {n: [area(p) for _, p in shares] for n, shares, _ in divided([SQUARE, SQUARE, far], parts)}
    assert found == {0: pytest.approx([100, 20]), 2: pytest.approx([100, 30])}


def test_parts_beside_their_area_leave_it_whole():
    assert list(divided([SQUARE], told((0, 1, (20, 0, 30, 2), False)))) == [(0, [(0, SQUARE)], ())]
    assert list(divided([SQUARE], Parts.none())) == []


def test_triangles_of_a_part_that_share_only_a_piece_of_an_edge_leave_no_line_in_it():
    """The corner between the two on the right lies half way along the edge of that on the left, a hair off it."""
    low, high, half = (5.0, 0.0), (5.0, 4.0), (5.0 + 1e-7, 2.0)
    ring = [[low, high, (2.0, 2.0)], [low, (8.0, 0.0), half], [half, (8.0, 4.0), high], [half, (8.0, 0.0), (8.0, 4.0)]]
    one = np.ones(len(ring), dtype=np.int64)
    parts = Parts(np.array(ring), 0 * one, one, 0 * one, 0 * one)
    other = told((0, 2, (0, 8, 10, 9), False))
    every = Parts(*(np.concatenate(each) for each in zip(parts, other, strict=True)))
    ((_, _, seams),) = divided([SQUARE], every)
    assert not [line for line in seams if all(abs(x - 5.0) < 0.01 for x, y in line)]
