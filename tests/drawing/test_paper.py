"""Paper: where points, rings and polygons of a view lie on it."""

import math
from itertools import pairwise

import numpy as np
from shapely.geometry import LineString, Point

from planbook.drawing.look import flat
from planbook.drawing.paper import Paper, divided, seen_from
from planbook.solids.visible import isometric

PAPER = Paper(0.37, 41.3, 77.9)
SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
HOLE = ((2.0, 2.0), (2.0, 8.0), (8.0, 8.0))


def test_points_turned_into_a_view_together_are_those_turned_alone() -> None:
    points = np.random.default_rng(7).uniform(-300, 300, (500, 3))
    for quarter in range(4):
        view = isometric(quarter, above=True)
        alone = [flat(view, (x, y, z)) for x, y, z in points.tolist()]
        assert [tuple(point) for point in seen_from(view, points).tolist()] == alone


def test_polygons_keep_their_holes() -> None:
    put = PAPER.polygons([(SQUARE, (HOLE,)), (HOLE, ())])
    hole = tuple(PAPER.put(point) for point in HOLE)
    assert put == ((tuple(PAPER.put(point) for point in SQUARE), (hole,)), (hole, ()))
    assert PAPER.polygons([]) == ()


def test_rings_of_several_areas_are_those_of_each() -> None:
    speck = (((0.0, 0.0), (0.01, 0.0), (0.0, 0.01)), ())
    areas = [[(SQUARE, (HOLE,))], [], [speck], [(HOLE, ()), (SQUARE, ())]]
    found = PAPER.all_rings(areas)
    assert [len(rings) for rings in found] == [2, 0, 0, 2]
    assert found == [PAPER.rings(polygons) for polygons in areas]
    assert set(found[0][0]) == {PAPER.put(point) for point in SQUARE}


def test_a_divided_line_keeps_its_corners_and_leaves_no_gap() -> None:
    line = divided(SQUARE, 0.4)
    assert set(SQUARE) <= set(line)
    assert max(math.dist(a, b) for a, b in pairwise(line)) <= 0.4 + 1e-9
    # Read with a geometry library: no point is off the line, and none of its length is lost.
    assert max(LineString(SQUARE).distance(Point(p)) for p in line) < 1e-9
    assert abs(LineString(line).length - LineString(SQUARE).length) < 1e-9
