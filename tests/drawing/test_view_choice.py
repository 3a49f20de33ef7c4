"""The view of a step: the worked face is always turned to the reader, from home wherever that shows it."""

import pytest

from planbook.drawing.look import look
from planbook.drawing.views import HOME, choose, direction_of
from planbook.solids import FACE_FRAMES
from planbook.solids.frames import dot, times
from planbook.solids.plane import circle
from planbook.solids.solid import block, prism
from planbook.solids.turned import outer_rings, rim_cutter, rounded_profile

STILL = (0.0, 0.0, 0.0)


@pytest.mark.parametrize("face", list(FACE_FRAMES))
def test_the_worked_face_is_seen(bench, face):
    cube = bench.piece("cube", block((0, 0, 0), (60, 50, 40)))
    choice = choose(((cube, STILL),), face, [0])
    seen = look(((cube, STILL),), choice.view)
    assert any(dot(f.normal, direction_of(face)) > 0.999 and f.area > 100 for f in seen.faces)


@pytest.mark.parametrize(
    ("face", "words"),
    [
        ("front", "front right and above"),
        ("right", "front right and above"),
        ("top", "front right and above"),
        ("left", "front left and above"),
        ("back", "back right and above"),
        ("bottom", "front right and below"),
    ],
)
def test_home_is_kept_where_it_shows_the_face(bench, face, words):
    cube = bench.piece("cube", block((0, 0, 0), (60, 50, 40)))
    assert choose(((cube, STILL),), face, [0]).words == words


def test_another_quarter_is_taken_when_something_stands_before_the_face(bench):
    worked = bench.piece("worked", block((0, 0, 0), (60, 60, 60)))
    wall = bench.piece("wall", block((70, -120, 0), (80, 60, 200)))
    placed = ((worked, STILL), (wall, STILL))
    assert choose(placed, "front", [0]).words == "front left and above"
    assert choose((placed[0],), "front", [0]).view == HOME


def test_a_small_piece_behind_another_is_found_from_another_side(bench):
    box = bench.piece("box", block((0, 0, 0), (100, 100, 100)))
    knob = bench.piece("knob", block((-10, 40, 40), (0, 50, 50)))
    choice = choose(((box, STILL), (knob, STILL)), "top", [0, 1])
    assert choice.unseen == ()
    assert "left" in choice.words


def test_a_rail_of_which_only_an_end_sticks_out_is_found_from_behind(bench):
    """Seen from the front and above, the shelf leaves 10 mm of the 400 mm of its rail in sight."""
    shelf = bench.piece("shelf", block((0, 0, 50), (400, 150, 60)))
    rail = bench.piece("rail", block((-10, 120, 10), (400, 140, 50)))
    front = bench.piece("front", block((0, -10, 0), (410, 0, 50)))
    placed = ((shelf, STILL), (rail, STILL), (front, STILL))
    choice = choose(placed, "right", [0, 1])
    assert choice.words == "back right and above"
    assert choose(placed[:1], "right", [0]).view == HOME


def test_a_piece_shut_in_is_reported_from_every_side(bench):
    core = bench.piece("core", block((10, 10, 10), (50, 50, 50)))
    shell = bench.piece("shell", block((0, 0, 0), (60, 60, 60)).minus(block((9, 9, 9), (51, 51, 51))))
    for face in FACE_FRAMES:
        assert choose(((core, STILL), (shell, STILL)), face, [0]).unseen == (0,)


def test_a_face_pulled_out_of_a_block_is_seen(bench):
    """Sawn parts lie pulled apart along the face they were sawn from."""
    body = bench.piece("body", block((0, 10, 0), (100, 100, 100)))
    for face, frame in FACE_FRAMES.items():
        slab = bench.piece("slab", block((0, 0, 0), (100, 100, 100)).meet(block((-1, -1, -1), (101, 8, 101))))
        choice = choose(((body, STILL), (slab, times(frame.n, 150.0))), face, [1])
        assert choice.unseen == ()


def test_an_unknown_face_is_looked_at_from_home(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 50, 40)))
    assert choose(((cube, STILL),), "joint", [0]).view == HOME


def test_any_view_will_do_where_no_face_is_worked(bench):
    """A lid that hides nearly all of the body's front still leaves the view from home, for the whole object is meant."""
    body = bench.piece("body", block((0, 0, 0), (60, 60, 60)))
    lid = bench.piece("lid", block((-80, -80, 60), (140, 140, 70)))
    placed = ((body, STILL), (lid, STILL))
    assert choose(placed, "", [0, 1]).view == HOME
    assert choose(placed, "front", [0]).view != HOME


def test_rounded_edges_do_not_hide_the_face_they_run_around(bench):
    front, back = FACE_FRAMES["front"], FACE_FRAMES["back"]
    disc = prism(circle((0.0, 0.0), 40.0), front, 0.0, 30.0)
    level = {front: 30.0, back: 0.0}
    for frame in (front, back):
        (ring,) = outer_rings(disc.section(front, 15.0))
        ring = ring if frame is front else tuple((-u, v) for u, v in reversed(ring))
        cutter = rim_cutter(ring, frame, level[frame], rounded_profile(4.0))
        assert cutter is not None
        disc = disc.minus(cutter)
    # The floor of a notch looks the same way, and is best seen from below.
    piece = bench.piece("disc", disc.minus(block((-10, -31, -60), (10, -10, 0))))
    assert choose(((piece, STILL),), "front", [0]).view == HOME


@pytest.mark.parametrize(("over", "above"), [(60, True), (80, True), (90, False)])
def test_what_is_seen_a_little_from_above_is_not_drawn_from_below_the_floor(bench, over, above):
    """Under a lid that stands out so far, the lowest 100 - `over` mm of a board 100 mm high are seen from above."""
    board = bench.piece("board", block((0, 0, 0), (400, 20, 100)))
    lid = bench.piece("lid", block((-200, -over, 100), (600, 20, 120)))
    found = choose(((board, STILL), (lid, STILL)), "front", (0,))
    assert (found.view.toward[2] > 0) is above
    assert found.unseen == ()
