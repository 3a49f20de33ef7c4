"""Balloons of exploded views: near their pieces, on bare paper, with leaders that cross nothing."""

import itertools
import math

import pytest
import shapely

from planbook.drawing.balloons import BETWEEN, CLEAR, Numbered, ballooned, standing
from planbook.drawing.marks import Stroke

RADIUS = 2.0


def square(x, y, side=12.0):
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def numbered(*rings):
    return [Numbered(str(n), (((ring, ()),),)) for n, ring in enumerate(rings, start=1)]


def shapes(balloons):
    return [shapely.LineString([each.at, each.dot]) for each in balloons]


GRID = [square(20 + 22 * i, 20 + 22 * j) for i in range(4) for j in range(3)]


def test_every_balloon_stands_clear_of_all_pieces_and_of_the_others():
    balloons = standing(numbered(*GRID), 120, 100, RADIUS)
    assert [each.text for each in balloons] == [str(n) for n in range(1, 13)]
    pieces = shapely.union_all([shapely.Polygon(ring) for ring in GRID])
    for each in balloons:
        assert shapely.distance(pieces, shapely.Point(each.at)) >= RADIUS + CLEAR - 0.6  # a cell is 0.8 mm wide
    for one, two in itertools.combinations(balloons, 2):
        assert math.dist(one.at, two.at) >= 2 * RADIUS + BETWEEN


def test_leaders_are_short_and_cross_neither_one_another_nor_other_pieces():
    balloons = standing(numbered(*GRID), 120, 100, RADIUS)
    for n, (ring, each) in enumerate(zip(GRID, balloons, strict=True)):
        assert shapely.Polygon(ring).contains(shapely.Point(each.dot))
        assert math.dist(each.at, each.dot) < 12
        others = [shapely.Polygon(other) for k, other in enumerate(GRID) if k != n]
        assert not any(shapely.intersects(other, shapes(balloons)[n]) for other in others)
    for one, two in itertools.combinations(shapes(balloons), 2):
        assert not one.intersects(two)


def test_a_leader_goes_round_rather_than_over_another_piece():
    walls = [square(30, 20, 4.0), ((10, 26), (60, 26), (60, 60), (10, 60))]
    (first, _) = standing(numbered(*walls), 80, 80, RADIUS)
    assert first.at[1] < 26


def test_a_dot_keeps_off_a_sliver_where_its_piece_has_room():
    sliver, large = ((20, 30), (60, 30), (60, 30.6), (20, 30.6)), square(20, 34, 20.0)
    (only,) = standing([Numbered("7", (((large, ()),), ((sliver, ()),)))], 80, 80, RADIUS)
    assert only.dot[1] > 34.5


def test_a_piece_that_is_walled_in_still_has_its_number():
    outer = ((0, 0), (40, 0), (40, 40), (0, 40))
    hole = square(15, 15, 10.0)
    walls = [Numbered("1", (((outer, (hole,)),),)), Numbered("2", (((square(16, 16, 8.0), ()),),))]
    assert [each.text for each in standing(walls, 40, 40, RADIUS)] == ["1", "2"]


def test_no_numbers_need_no_place():
    assert standing([], 40, 40, RADIUS) == ()


@pytest.mark.parametrize("size", [2.5, 4.0])
def test_a_leader_ends_at_its_circle(size):
    balloons = standing(numbered(*GRID[:3]), 120, 100, RADIUS)
    leaders = [m for m in ballooned(balloons, size, RADIUS) if isinstance(m, Stroke) and m.layer == "leader"]
    for each, leader in zip(balloons, leaders, strict=True):
        assert math.dist(leader.points[0], each.at) == pytest.approx(RADIUS)
        assert leader.points[-1] == each.dot
