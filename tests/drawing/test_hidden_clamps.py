"""Clamps on faces that are not seen: their marks stand at the wood that they press, or not at all; sizes by hand."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import Point, Polygon

from planbook.drawing.marks import Fill, Stroke
from planbook.drawing.pads import BLOCK, UNSEEN, hidden, pressing
from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_event
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown
from planbook.workshop.timeline import AT_A_CUT

BOARD = block((0, 0, 0), (100, 20, 60))
BEHIND = Cue("clamp", ((50.0, 60.0, 30.0), (50.0, 20.0, 30.0)), "board")
"""It presses on the back of the board, which no view from the front shows."""


def blocks(bench, *others, cue=BEHIND, board=BOARD) -> int:
    """How many blocks of clamps are drawn on a board and other pieces."""
    shown = [Shown(bench.piece("board", board), "worked")]
    shown += [Shown(bench.piece(f"other {n}", solid), "worked") for n, solid in enumerate(others)]
    picture = step_picture(bench.timeline(), bench.event("glue up", "front", shown, [cue]), 98, 64)
    return sum(isinstance(mark, Fill) and len(mark.rings[0]) == 4 for mark in picture.of_layer("clamp"))


def test_a_clamp_on_a_hidden_face_stands_beyond_the_edge_of_its_own_board(bench):
    assert blocks(bench) == 1


def in_dashes(bench, *others, cue=BEHIND, board=BOARD) -> int:
    """How many blocks are drawn in dashes."""
    shown = [Shown(bench.piece("board", board), "worked")]
    shown += [Shown(bench.piece(f"other {n}", solid), "worked") for n, solid in enumerate(others)]
    picture = step_picture(bench.timeline(), bench.event("glue up", "front", shown, [cue]), 98, 64)
    return sum(isinstance(m, Stroke) and len(m.points) == 4 and bool(m.pen.dashes) for m in picture.of_layer(UNSEEN))


def test_a_clamp_that_other_wood_stands_before_is_drawn_in_dashes(bench):
    """A taller board a little to the right covers all that is seen of the way in which the clamp comes."""
    assert blocks(bench, block((104, -60, -40), (120, 400, 400))) == 0
    assert in_dashes(bench, block((104, -60, -40), (120, 400, 400))) == 1


@pytest.mark.parametrize(("far", "seen"), [(0.0, 1), (120.0, 0)])
def test_a_clamp_under_an_arch_is_drawn_in_dashes_where_a_rail_before_it_would_seem_to_be_pressed(bench, far, seen):
    """A panel with an arch 50 mm high, pressed from below; a rail stands so far before it, or there is none."""
    panel = block((0, 0, 0), (18, 250, 200)).minus(block((-1, 30, -1), (19, 220, 50)))
    cue = Cue("clamp", ((9.0, 125.0, 0.0), (9.0, 125.0, 50.0)), "board")
    rail = [block((18, 125 - far, 100), (400, 143 - far, 200))] if far else []
    assert blocks(bench, *rail, cue=cue, board=panel) == seen
    assert in_dashes(bench, *rail, cue=cue, board=panel) == 1 - seen


def test_one_clamp_for_two_cuts_is_shown_once(bench):
    """Two operations of a step that are pressed in the same place, and one that is pressed elsewhere."""
    piece = bench.piece("board", BOARD)
    other = Cue("clamp", ((50.0, 10.0, 90.0), (50.0, 10.0, 60.0)), "board")
    events = [bench.event("shim", "front", [Shown(piece, "worked")], [cue]) for cue in (BEHIND, BEHIND, other)]
    drawn = drawn_event(events)
    assert drawn is not None
    assert [cue.points for cue in drawn.show.cues] == [BEHIND.points, other.points]


def blocks_of(picture):
    return [m.rings[0] for m in picture.of_layer("clamp") if isinstance(m, Fill) and len(m.rings[0]) == 4]


@pytest.mark.parametrize(("wide", "aslant", "long"), [(100.0, 30, 4.0), (8.0, 15, 4.0), (3.0, 30, 2.0)])
def test_a_block_lies_across_its_way_or_along_a_narrow_strip(bench, wide, aslant, long):
    """On the front of a board, and of strips 8 and 3 mm high, which are 2.26 and 0.85 mm wide on paper.

    Straight across its way a block is 30 degrees aslant to the strip. One that has no room at all stays so, and short.
    """
    board = block((0, 0, 0), (200, 20, wide))
    cue = Cue("clamp", ((100.0, -40.0, wide / 2), (100.0, 0.0, wide / 2)), "board")
    event = bench.event("glue up", "front", [Shown(bench.piece("board", board), "worked")], [cue])
    (ring,) = blocks_of(step_picture(bench.timeline(), event, 98, 64, scale=0.4))
    assert math.dist(ring[0], ring[1]) == pytest.approx(long, abs=0.2)
    way = math.degrees(math.atan2(ring[1][1] - ring[0][1], ring[1][0] - ring[0][0]))
    assert way % 180 - 30 == pytest.approx(aslant, abs=0.01)  # the front's level edges rise or fall by 30 degrees


def test_a_block_near_an_edge_is_moved_in_until_it_lies_on_its_face(bench):
    """A clamp 1 mm under the upper edge of a board, at a scale of 0.4."""
    cue = Cue("clamp", ((100.0, -40.0, 99.0), (100.0, 0.0, 99.0)), "board")
    event = bench.event(
        "glue up", "front", [Shown(bench.piece("board", block((0, 0, 0), (200, 20, 100))), "worked")], [cue]
    )
    picture = step_picture(bench.timeline(), event, 98, 64, scale=0.4)
    (ring,) = blocks_of(picture)
    faces = [Polygon(mark.rings[0]) for mark in picture.of_layer("face")]
    assert any(face.contains(Polygon(ring)) for face in faces)


def test_dashes_lie_where_the_block_would_be_seen_if_nothing_hid_it():
    """The block and the wedge of a clamp in dashes have the outlines of one that is seen."""
    solid = [m.rings[0] for m in pressing((10.0, 20.0), (0.6, 0.8), ink="colour") if isinstance(m, Fill)]
    dashed = [m.points for m in hidden((10.0, 20.0), (0.6, 0.8), "colour") if isinstance(m, Stroke) and m.pen.dashes]
    assert dashed == solid
    assert Polygon(dashed[1]).centroid.distance(Point(10, 20)) < 1e-9
    assert Polygon(dashed[1]).area == pytest.approx(BLOCK[0] * BLOCK[1])


def test_what_closes_a_cut_is_not_drawn_far_from_it(bench):
    assert blocks(bench, cue=replace(BEHIND, text=AT_A_CUT)) == 0
    assert in_dashes(bench, cue=replace(BEHIND, text=AT_A_CUT)) == 1
    near = Cue("clamp", ((50.0, 60.0, 59.0), (50.0, 20.0, 59.0)), "board", AT_A_CUT)
    assert blocks(bench, cue=near) == 1
