"""Where clamps press on what is glued: on wood that carries the whole foot, where there is any."""

import pytest
from shapely.geometry import Point, Polygon, box

from planbook.solids import Solid
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import At, Piece, Shown
from planbook.workshop.gluing import FOOT, _pushes

BACK = block((0, 40, 0), (200, 60, 100))


def spots(front: Solid, back: Solid = BACK) -> list[tuple[float, float]]:
    """Where the clamps press on two pieces that lie before one another, x and z in mm."""
    place = At(1, 1, Place("steps.md"))
    shown = [Shown(Piece(name, solid, (), place), "worked") for name, solid in (("front", front), ("back", back))]
    return [(cue.points[-1][0], cue.points[-1][2]) for cue in _pushes(shown, "y", ())]


def opened(*holes: tuple[float, float, float, float]) -> tuple[Solid, Polygon]:
    """A plate with holes from left, low to right, high; and the same by itself in the plane."""
    solid, flat = block((0, 0, 0), (200, 20, 100)), box(0, 0, 200, 100)
    for x, z, u, v in holes:
        solid, flat = solid.minus(block((x, -1, z), (u, 21, v))), flat.difference(box(x, z, u, v))
    return solid, flat


def test_a_foot_stands_clear_of_an_opening_beside_the_middle() -> None:
    solid, flat = opened((50, 20, 92, 80))
    assert solid.middle[0] - 92 < FOOT / 2, "the middle is too near to the opening"
    front, back = spots(solid)
    assert front == back
    assert flat.buffer(1e-6).contains(Point(front).buffer(FOOT / 2))


def test_a_foot_stays_in_the_middle_where_it_stands_well() -> None:
    solid, _ = opened((10, 10, 40, 90))
    front, back = spots(solid)
    assert front == pytest.approx((solid.middle[0], solid.middle[2]))
    assert back == pytest.approx((100, 50))


def test_a_frame_too_narrow_for_a_foot_is_pressed_where_there_is_wood() -> None:
    solid, flat = opened((12, 12, 188, 88))
    front, back = spots(solid)
    assert front == back
    assert flat.contains(Point(front))
    # Halfway across the frame: the corners of a foot stand out alike on both sides.
    assert flat.boundary.distance(Point(front)) == pytest.approx(6, abs=0.5)
