"""Quick ways to ask about areas say what the plain ways say."""

import itertools
import random

import pytest

from planbook.solids.plane import Area, arc_band, box, circle

RING = arc_band((0.0, 0.0), 20.0, 40.0, 10.0, 300.0)
FRAME = box(0, 0, 90, 60).minus(circle((45, 30), 20))


@pytest.mark.parametrize("free", [RING, FRAME])
def test_many_places_are_told_apart_as_each_is(free):
    rng = random.Random(5)
    label = box(-4, -2, 8, 4).turned(20)
    spots = [(rng.uniform(-50, 100), rng.uniform(-50, 70)) for _ in range(300)]
    fits = free.takes(label, spots)
    assert fits == [free.holds(spot) and label.moved(*spot).within(free) for spot in spots]
    assert 10 < sum(fits) < 200
    assert free.takes(label, []) == []


@pytest.mark.parametrize("area", [RING, FRAME])
def test_a_part_in_a_box_is_the_overlap_with_it(area):
    for left, low in itertools.product((-30, -5, 20), (-35, 0, 25)):
        assert area.in_box(left, low, left + 40, low + 30).size == pytest.approx(area.meet(box(left, low, 40, 30)).size)
    assert area.in_box(200, 200, 210, 210).empty


def test_the_nearest_point_is_on_the_edge_or_the_point_itself():
    square = Area.of([(0, 0), (10, 0), (10, 10), (0, 10)])
    assert square.nearest((14, 5)) == pytest.approx((10, 5))
    assert square.nearest((3, 4)) == pytest.approx((3, 4))


def test_coarser_edges_stay_near_where_they_were():
    fine = circle((0, 0), 50)
    rough = fine.coarser(0.1)
    assert len(rough.rings[0]) < len(fine.rings[0])
    assert rough.minus(fine.offset(0.1)).empty
    assert fine.minus(rough.offset(0.1)).empty
