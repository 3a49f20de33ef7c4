"""Clamps on faces that are not seen: their marks stand at the wood that they press, or not at all; sizes by hand."""

import pytest

from planbook.drawing.marks import Fill
from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_event
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown

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


def test_a_clamp_that_other_wood_stands_before_is_left_out(bench):
    """A taller board a little to the right covers all that is seen of the way in which the clamp comes."""
    assert blocks(bench, block((104, -60, -40), (120, 400, 400))) == 0


@pytest.mark.parametrize(("far", "seen"), [(0.0, 1), (120.0, 0)])
def test_a_clamp_under_an_arch_is_left_out_where_a_rail_before_it_would_seem_to_be_pressed(bench, far, seen):
    """A panel with an arch 50 mm high, pressed from below; a rail stands so far before it, or there is none."""
    panel = block((0, 0, 0), (18, 250, 200)).minus(block((-1, 30, -1), (19, 220, 50)))
    cue = Cue("clamp", ((9.0, 125.0, 0.0), (9.0, 125.0, 50.0)), "board")
    rail = [block((18, 125 - far, 100), (400, 143 - far, 200))] if far else []
    assert blocks(bench, *rail, cue=cue, board=panel) == seen


def test_one_clamp_for_two_cuts_is_shown_once(bench):
    """Two operations of a step that are pressed in the same place, and one that is pressed elsewhere."""
    piece = bench.piece("board", BOARD)
    other = Cue("clamp", ((50.0, 10.0, 90.0), (50.0, 10.0, 60.0)), "board")
    events = [bench.event("shim", "front", [Shown(piece, "worked")], [cue]) for cue in (BEHIND, BEHIND, other)]
    drawn = drawn_event(events)
    assert drawn is not None
    assert [cue.points for cue in drawn.show.cues] == [BEHIND.points, other.points]
