"""What is measured of a piece: places, circles in closed form, and which pieces are measured at all."""

import math

import pytest

from planbook.drawing.measured import measured
from planbook.drawing.piece_alike import alike
from planbook.solids.plane import box, circle, ellipse
from planbook.solids.solid import block, cylinder, prism
from planbook.solids.turned import cone

from .conftest import FRONT, TOP, arch_sawn_off


def test_what_is_left_of_a_circle_is_told_by_its_radius_and_not_by_its_chords():
    """Every place is a face, a corner or a middle in closed form: circles of R 75, 85 and 94 about (100, 60)."""
    facts = measured(arch_sawn_off())
    top = 9.45
    corners = [100 - math.sqrt(r * r - top * top) for r in (94, 85, 75)]
    middles = [100 + k * 80 * math.cos(math.radians(6)) for k in (-1, 1)]
    known = {0.0, 6.0, 30.0, 100.0, 194.0, 200.0, *corners, *middles, *(200 - c for c in corners)}
    assert all(min(abs(place - one) for one in known) < 0.2 for place in facts.places[0])
    assert len(facts.places[0]) <= len(known)


def test_a_rounded_corner_has_a_radius_and_no_places():
    facts = measured(prism(box(0, 0, 120, 80, 9), FRONT, -20.0, 0.0))
    assert facts.places == ((0.0, 120.0), (0.0, 20.0), (0.0, 80.0))
    assert [r.corner for r in facts.rounds] == [True] * 4
    assert all(r.radius == pytest.approx(9.0) and not r.hollow for r in facts.rounds)


def test_the_middle_of_a_pin_is_told_by_its_diameter_and_that_of_its_bore_by_places():
    pin = cylinder(TOP, (40, 30), 6.0, 0, 20)
    assert measured(pin).places == ((0.0, 12.0), (0.0, 12.0), (0.0, 20.0))
    tube = pin.minus(cylinder(TOP, (40, 30), 2.0, -1, 21))
    assert measured(tube).places[0] == pytest.approx((0.0, 6.0, 12.0), abs=0.02)
    on_a_foot = pin.plus(block((30, 20, -5), (70, 40, 0)))
    assert measured(on_a_foot).places[0] == pytest.approx((0.0, 10.0, 40.0), abs=0.02)


def test_a_hole_has_the_middle_and_radius_it_was_bored_with():
    solid = block((10, 20, 30), (110, 70, 130)).minus(cylinder(TOP, (40, 55), 7.5, 90.0, 200.0))
    (hole,) = measured(solid).rounds
    assert (hole.axis, hole.hollow, hole.whole, hole.through) == (2, True, True, False)
    assert hole.middle == pytest.approx((30.0, 35.0), abs=1e-6)
    assert hole.radius == pytest.approx(7.5, abs=1e-6)
    assert hole.along == pytest.approx((60.0, 100.0))
    assert measured(solid).places[2] == (0.0, 100.0)


def test_the_depth_of_a_hole_is_told_in_its_note_alone_and_that_of_a_recess_by_places():
    """What is told twice may be rounded to two figures that do not agree."""
    solid = block((0, 0, 0), (100, 50, 80)).minus(cylinder(TOP, (40, 25), 3.0, 30.0, 90.0))
    bored = solid.minus(cylinder(TOP, (40, 25), 6.0, 72.0, 90.0))
    sunk = bored.minus(cylinder(TOP, (70, 25), 2.0, -1.0, 81.0)).minus(cone(TOP, (70, 25), (77.5, 2.0), (80.0, 4.5)))
    assert measured(sunk).places[2] == (0.0, 80.0)
    assert measured(sunk.minus(block((-1, -1, 65), (10, 60, 90)))).places[2] == (0.0, 65.0, 80.0)


def test_pieces_of_the_same_dimensions_share_a_sheet():
    class Thing:
        def __init__(self, solid):
            self.solid = solid

    one, two = block((0, 0, 0), (50, 20, 10)), block((300, 5, 7), (350, 25, 17))
    other = block((0, 0, 0), (50, 20, 11))
    assert alike({"a": Thing(one), "b": Thing(other), "c": Thing(two)}) == (("a", "c"), ("b",))  # type: ignore[dict-item]


def test_a_piece_of_free_curves_is_left_to_its_stencil():
    class Thing:
        solid = prism(
            ellipse((0, 0), 150, 90).plus(circle((70, 20), 20)).minus(circle((-75, 0), 12)).minus(circle((0, 50), 15)),
            FRONT,
            -20.0,
            0.0,
        )

    assert measured(Thing.solid).freeform
    assert alike({"wing": Thing()}) == ()  # type: ignore[dict-item]
