"""Plane jobs of pictures: hatching, lines cut to areas, and places for dots."""

import math

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from planbook.solids.hatch import (
    away,
    bounds_of,
    clearances,
    clip_each,
    clip_lines,
    grounds,
    hatching,
    held,
    inside,
    off_edges,
    owners,
    roomy_point,
    taken,
    thinned,
    united,
)

SQUARE = ((((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)), ()),)
FRAME = ((SQUARE[0][0], (((2.0, 2.0), (2.0, 8.0), (8.0, 8.0), (8.0, 2.0)),)),)


def test_hatching_covers_an_area_evenly():
    """Lines a distance apart have a total length of area over distance."""
    for degrees in (0.0, 45.0, 60.0):
        lines = hatching(FRAME, 0.0993, degrees)
        assert sum(math.dist(*line) for line in lines) == pytest.approx((100 - 36) / 0.0993, rel=0.02)


def test_hatching_keeps_out_of_holes():
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in hatching(FRAME, 0.7)]
    assert all(inside(FRAME, middles))
    assert not inside(FRAME, [(5.0, 5.0)])[0]


def test_hatching_of_nothing_is_nothing():
    assert hatching((), 1.0) == ()
    assert hatching(SQUARE, 0.0) == ()


def test_lines_are_cut_at_edges_and_holes():
    assert clip_lines(FRAME, [((-5.0, 5.0), (15.0, 5.0))]) == (((0.0, 5.0), (2.0, 5.0)), ((8.0, 5.0), (10.0, 5.0)))
    assert clip_lines(FRAME, [((20.0, 5.0), (25.0, 5.0)), ((1.0, 1.0),)]) == ()


def test_stretches_know_their_line():
    lines = [((1.0, 1.0),), ((-5.0, 5.0), (15.0, 5.0)), ((20.0, 5.0), (25.0, 5.0)), ((1.0, -1.0), (1.0, 4.0))]
    found = list(clip_each(FRAME, lines))
    assert found == [(1, ((0.0, 5.0), (2.0, 5.0))), (1, ((8.0, 5.0), (10.0, 5.0))), (3, ((1.0, 0.0), (1.0, 4.0)))]
    assert list(clip_each((), lines)) == []


def test_a_point_between_polygons_side_by_side_is_inside():
    two = (*SQUARE, (((10.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0)), ()))
    assert inside(two, [(5.0, 5.0), (10.0, 5.0), (15.0, 5.0), (25.0, 5.0)]) == (True, True, True, False)
    assert inside((), [(5.0, 5.0)]) == (False,)


def test_polygons_over_each_other_become_one():
    over = (*SQUARE, (((5.0, 0.0), (15.0, 0.0), (15.0, 10.0), (5.0, 10.0)), ()))
    ((outer, holes),) = united(over)
    assert (min(outer), max(outer), holes) == ((0.0, 0.0), (15.0, 10.0), ())
    assert sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outer, (*outer[1:], outer[0]), strict=True)) == 300
    assert united(()) == ()


def test_clearances_are_those_to_the_nearest_thing():
    wall, line = [((20.0, 0.0), (20.0, 10.0))], [(5.0, 5.0), (13.0, 5.0), (18.0, 14.0)]
    assert clearances(SQUARE, wall, line) == pytest.approx((0.0, 3.0, math.hypot(2, 4)))
    assert clearances((), (), [(0.0, 0.0)]) == (math.inf,)
    assert clearances(SQUARE, wall, []) == ()


@pytest.mark.parametrize("far", [0.3, 1.0, 4.0])
def test_what_is_near_agrees_with_distances(far):
    """Random stretches, and points, against the distance that the geometry library measures."""
    rng = np.random.default_rng(3)
    starts, ends = rng.uniform(-10, 30, (2, 200, 2))
    wall, apart = ((20.0, 0.0), (20.0, 10.0)), ((((12.0, -4.0), (16.0, -4.0), (14.0, 3.0)), ()),)
    areas = [Polygon(SQUARE[0][0]), Polygon(apart[0][0])]
    for one, two in ((starts, ends), (starts, starts)):
        off = np.array([[LineString([a, b]).distance(area) for a, b in zip(one, two, strict=True)] for area in areas])
        both = grounds([SQUARE, apart])
        assert both.near(one, two, far).tolist() == (off <= far).any(axis=0).tolist()
        own = rng.integers(2, size=(2, len(one))) > 0
        assert both.near(one, two, far, but=own).tolist() == ((off <= far) & ~own).any(axis=0).tolist()
        all_off = [
            min(*each, LineString([a, b]).distance(LineString(wall)))
            for *each, a, b in zip(*off, one, two, strict=True)
        ]
        assert taken((*SQUARE, *apart), [wall]).near(one, two, far).tolist() == [each <= far for each in all_off]
    assert not taken((), ()).near(starts, ends, far).any()
    assert not grounds([]).near(starts, ends, far).any()


def test_no_roomy_place_is_nearer_than_the_ground_itself():
    for toward in ((30.0, 5.0), (-4.0, 13.0), (5.0, 5.0)):
        for polygons in (SQUARE, FRAME):
            assert (
                math.dist(roomy_point(polygons, 0.5, toward)[0], toward) >= away(polygons, np.array([toward]))[0] - 1e-9
            )
    assert away(SQUARE, (13.0, 14.0)) == pytest.approx(5.0)


def test_the_roomiest_place_is_in_the_middle():
    point, room = roomy_point(SQUARE, 1.0)
    assert point == pytest.approx((5, 5), abs=0.5)
    assert room == pytest.approx(5, abs=0.5)


def test_a_place_toward_a_side_keeps_its_distance_from_the_edge():
    point, _ = roomy_point(SQUARE, 2.0, toward=(30.0, 5.0))
    assert point == pytest.approx((8, 5), abs=0.01)
    narrow = ((((0.0, 0.0), (50.0, 0.0), (50.0, 1.0), (0.0, 1.0)), ()),)
    point, kept = roomy_point(narrow, 2.0, toward=(100.0, 0.0))
    assert inside(narrow, [point])[0]
    assert 0.2 < kept <= 0.5


def test_a_place_on_a_long_slim_face_is_in_its_width_and_off_its_ends():
    for turn in (0.0, 0.5, 1.2):
        c, s = math.cos(turn), math.sin(turn)
        rail = ((tuple((c * u - s * v, s * u + c * v) for u, v in ((0, 0), (600, 0), (600, 12), (0, 12))), ()),)
        _, room = roomy_point(rail, 9.0)
        assert room == pytest.approx(6.0, abs=1.2)
        for far, end in ((900.0, 600.0), (-300.0, 0.0)):
            (u, v), _ = roomy_point(rail, 15.0, toward=(c * far, s * far))
            assert c * v - s * u == pytest.approx(6.0, abs=2.5)
            assert abs(c * u + s * v - end) == pytest.approx(15.0, abs=0.01)


def test_no_ground_has_no_room():
    assert roomy_point((), 1.0) == ((0.0, 0.0), 0.0)


def test_thinning_drops_only_points_that_make_no_difference():
    line = ((0.0, 0.0), (1.0, 0.001), (2.0, 0.0), (2.0, 5.0))
    assert thinned([line, line[:2]], 0.02) == [((0.0, 0.0), (2.0, 0.0), (2.0, 5.0)), line[:2]]
    assert thinned([line[:2], line], 0.0001) == [line[:2], line]
    assert thinned([line[:2]], 1.0) == [line[:2]]
    assert thinned([], 1.0) == []


def test_each_point_is_told_the_first_area_in_which_it_lies():
    hollow = (
        (((0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0)), (((5.0, 5.0), (5.0, 25.0), (25.0, 25.0), (25.0, 5.0)),)),
    )
    areas = [SQUARE, hollow, ()]
    assert owners(areas, [(2.0, 2.0), (8.0, 8.0), (28.0, 2.0), (15.0, 15.0), (40.0, 0.0)]) == (0, 0, 1, -1, -1)
    assert owners([], [(1.0, 1.0)]) == (-1,)


def test_areas_about_a_point_are_counted_once_each():
    """Squares of 10 mm at 0 and 12 mm, and one of two parts at 30 and 42 mm; distances by hand."""
    squares = [[square(0.0)], [square(12.0)], [square(30.0), square(42.0)]]
    assert grounds(squares).about([(5.0, 5.0), (11.0, 5.0), (41.0, 5.0), (100.0, 5.0)], 1.5) == [1, 2, 1, 0]
    assert grounds(squares).about([], 1.5) == []


def square(left):
    return ((left, 0.0), (left + 10.0, 0.0), (left + 10.0, 10.0), (left, 10.0)), ()


def test_points_of_a_frame_are_told_from_those_in_its_hole_and_by_how_far_they_are_off_its_edges() -> None:
    frame = (
        (((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)), (((3.0, 3.0), (3.0, 7.0), (7.0, 7.0), (7.0, 3.0)),)),
    )
    points = np.array([[1.0, 5.0], [5.0, 5.0], [12.0, 5.0], [2.5, 2.0]])
    assert held(frame, points).tolist() == [[1.0, 5.0], [2.5, 2.0]]
    assert off_edges(frame, points) == pytest.approx([1.0, 2.0, 2.0, math.hypot(0.5, 1.0)])
    assert bounds_of(frame).tolist() == [0.0, 0.0, 10.0, 10.0]
    assert np.isnan(bounds_of(())).all()
