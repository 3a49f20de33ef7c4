"""Where sanding flush is marked: on what stood proud if a reader can see it, else on the whole face; sizes by hand."""

import pytest

from planbook.solids import FACE_FRAMES, Area, Solid
from planbook.solids.plane import blank_area
from planbook.solids.solid import block
from planbook.workshop.operations.sand_flush import _marked

SIDE = block((0, 0, 0), (20, 250, 300))
RIGHT = FACE_FRAMES["right"]


def spot(wide: float, high: float, at: float = 50.0) -> Area:
    return Area.of([(at, 100), (at + wide, 100), (at + wide, 100 + high), (at, 100 + high)])


def marked(proud: Area, solid: Solid = SIDE) -> list[int]:
    """How many points each mark has: one stands for the whole face."""
    cues = _marked(solid, proud, "right", "side")
    assert {(cue.kind, cue.piece, cue.text) for cue in cues} == {("sand", "side", "right")}
    assert all(point[0] == pytest.approx(20) for cue in cues for point in cue.points)
    return [len(cue.points) for cue in cues]


def test_ends_of_tongues_are_sanded_and_not_the_face_around_them():
    assert marked(spot(18, 40).plus(spot(18, 40, 180))) == [4, 4]


def test_plugs_too_small_for_a_picture_stand_for_the_whole_face():
    assert marked(spot(8, 8).plus(spot(8, 8, 180))) == [1]
    assert marked(spot(18, 40).plus(spot(8, 8, 180))) == [1], "one of them cannot be seen"


def test_a_face_that_is_flush_or_proud_for_the_most_part_is_sanded_as_a_whole():
    assert marked(blank_area()) == [1]
    assert marked(spot(150, 200)) == [4]
    assert marked(spot(199, 199)) == [1]


def test_a_spot_with_a_hole_is_marked_around_it():
    frame = spot(100, 100).minus(spot(20, 20, 90).moved(0, 40))
    cues = _marked(SIDE, frame, "right", "side")
    rings = [Area.of([RIGHT.local(point)[:2] for point in cue.points]) for cue in cues]
    assert sum(ring.size for ring in rings) == pytest.approx(100 * 100 - 20 * 20)
