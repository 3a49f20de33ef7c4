"""True lines, arcs and curves found again in chords, against closed forms."""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.drawing.curves import Arc, Curve, Straight, parts_of
from planbook.solids.plane import arc_band, box, circle, ellipse


def kinds(points, closed=True):
    return "".join(type(part).__name__[0] for part in parts_of(points, closed))


def length(part):
    if isinstance(part, Arc):
        return abs(part.turn) * part.radius
    points = part.points if isinstance(part, Curve) else (part.start, part.end)
    return sum(math.dist(a, b) for a, b in pairwise(points))


def test_a_circle_comes_back_as_two_halves_of_its_own_radius():
    (ring,) = circle((7.0, -3.0), 25.0).rings
    parts = parts_of(ring, closed=True)
    assert [type(part) for part in parts] == [Arc, Arc]
    assert all(part.radius == pytest.approx(25.0, abs=1e-9) for part in parts)
    assert sum(part.turn for part in parts) == pytest.approx(2 * math.pi)
    assert parts[0].middle == pytest.approx((7.0, -3.0), abs=1e-9)


def test_a_rounded_box_is_four_lines_and_four_quarters():
    (ring,) = box(0, 0, 80, 50, 9).rings
    parts = parts_of(ring, closed=True)
    arcs = [part for part in parts if isinstance(part, Arc)]
    lines = [part for part in parts if isinstance(part, Straight)]
    assert (len(arcs), len(lines)) == (4, 4)
    assert all(arc.turn == pytest.approx(math.pi / 2, abs=1e-9) and arc.radius == pytest.approx(9) for arc in arcs)
    assert sum(map(length, parts)) == pytest.approx(2 * (62 + 32) + 2 * math.pi * 9, abs=1e-9)


def test_an_arc_band_is_two_arcs_and_two_ends():
    (ring,) = arc_band((0, 0), 75, 85, 10, 104).rings
    parts = parts_of(ring, closed=True)
    radii = sorted(round(part.radius, 9) for part in parts if isinstance(part, Arc))
    assert radii == [75.0, 85.0]
    assert kinds(ring).count("S") == 2
    assert sum(map(length, parts)) == pytest.approx(math.radians(94) * (75 + 85) + 20, abs=1e-9)


def test_straight_sides_stay_straight_however_many():
    for count in (3, 4, 6, 12, 40):
        ring = [(50 * math.cos(2 * math.pi * i / count), 50 * math.sin(2 * math.pi * i / count)) for i in range(count)]
        assert kinds(ring) == "S" * count


def test_an_ellipse_is_a_few_smooth_parts_through_its_points():
    (ring,) = ellipse((0, 0), 150, 90).rings
    parts = parts_of(ring, closed=True)
    assert len(parts) <= 6
    assert not any(isinstance(part, Straight) for part in parts)


@pytest.mark.parametrize("closed", [True, False])
def test_parts_follow_one_another_without_gaps(closed):
    shapes = [box(0, 0, 80, 50, 9), ellipse((0, 0), 150, 90), arc_band((0, 0), 75, 85, 6, 174, True), circle((0, 0), 4)]
    for shape in shapes:
        parts = parts_of(shape.rings[0], closed)
        assert all(a.end == b.start for a, b in pairwise(parts))
        if closed:
            assert parts[-1].end == parts[0].start
        else:
            assert (parts[0].start, parts[-1].end) == (shape.rings[0][0], shape.rings[0][-1])


def test_the_point_halfway_lies_on_the_arc():
    arc = Arc((10.0, 0.0), (0.0, 10.0), (0.0, 0.0), math.pi / 2)
    assert arc.halfway == pytest.approx((10 / math.sqrt(2), 10 / math.sqrt(2)))
    other_way = Arc((10.0, 0.0), (0.0, 10.0), (0.0, 0.0), -3 * math.pi / 2)
    assert other_way.halfway == pytest.approx((-10 / math.sqrt(2), -10 / math.sqrt(2)))


@pytest.mark.parametrize("points", [[], [(0.0, 0.0)], [(0.0, 0.0)] * 5])
def test_a_line_without_length_has_no_parts(points):
    assert parts_of(points, closed=False) == ()
    assert parts_of(points, closed=True) == ()


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.floats(-500, 500), st.floats(-500, 500)), max_size=40), st.booleans())
def test_any_line_of_points_comes_back_whole(points, closed):
    parts = parts_of(points, closed)
    assert all(a.end == b.start for a, b in pairwise(parts))
    ends = {part.start for part in parts} | {part.end for part in parts}
    assert ends <= set(points)
