"""What a step is about is in its picture, or the picture says what is missing; bounded for degenerate scenes."""

from dataclasses import replace

import numpy as np
import pytest

from planbook.drawing.findings import NOT_SHOWN, not_shown
from planbook.drawing.scene import step_picture
from planbook.solids.solid import block
from planbook.solids.triangles import above_zero
from planbook.workshop import Cue, Shown

ROOM = (90.0, 70.0)


def picture_of(bench, *shown, cues=(), face="top", ink="colour"):
    return step_picture(bench.timeline(), bench.event("bore", face, list(shown), list(cues)), *ROOM, ink)


def test_a_picture_that_shows_its_piece_misses_nothing(bench):
    rail = bench.piece("rail", block((0, 0, 0), (200, 40, 20)))
    assert picture_of(bench, Shown(rail, "worked")).missing == ()


def test_a_piece_too_small_beside_a_large_one_is_missing(bench):
    rail = bench.piece("rail", block((0, 0, 0), (900, 600, 20)))
    pin = bench.piece("pin", block((10, 10, 20), (11, 11, 21)))
    assert picture_of(bench, Shown(rail, "worked"), Shown(pin, "new")).missing == ("`pin`",)


def test_a_hidden_piece_is_there_in_dashes(bench):
    crate = bench.piece("crate", block((0, 0, 0), (100, 100, 100)).parted(block((5, 5, 5), (95, 95, 95)))[1])
    core = bench.piece("core", block((20, 20, 20), (80, 80, 80)))
    assert picture_of(bench, Shown(crate, "context"), Shown(core, "worked")).missing == ()


def test_a_cut_line_behind_the_work_is_missing(bench):
    rail = bench.piece("rail", block((0, 0, 0), (200, 40, 20)))
    under = Cue("cut line", ((50.0, 5.0, 0.0), (50.0, 35.0, 0.0)), "rail")
    above = Cue("cut line", ((50.0, 5.0, 20.0), (50.0, 35.0, 20.0)), "rail")
    assert picture_of(bench, Shown(rail, "worked"), cues=[under]).missing == ("where `rail` is cut",)
    assert picture_of(bench, Shown(rail, "worked"), cues=[above, under]).missing == ()


def test_a_face_that_is_sanded_besides_may_look_away_but_not_what_a_step_is_about(bench):
    """The words below tell it: enough beside the arrow of a push, too little where nothing else is done."""
    rail = bench.piece("rail", block((0, 0, 0), (200, 40, 20)))
    under = Cue("sand", ((0.0, 20.0, 0.0), (200.0, 20.0, 0.0)), "rail", "bottom")
    push = Cue("push", ((100.0, 20.0, 60.0), (100.0, 20.0, 20.0)), "rail")
    assert picture_of(bench, Shown(rail, "worked"), cues=[under]).missing == ("where `rail` is sanded",)
    assert picture_of(bench, Shown(rail, "worked"), cues=[under, push]).missing == ()


def test_of_several_pieces_that_are_sanded_some_may_look_away(bench):
    """One of them bears ticks; the words below name the other with its face."""
    rail, post = (bench.piece(name, block((x, 0, 0), (x + 80, 40, 20))) for name, x in (("rail", 0), ("post", 100)))
    above = Cue("sand", ((0.0, 20.0, 20.0), (80.0, 20.0, 20.0)), "rail", "top")
    under = Cue("sand", ((100.0, 20.0, 0.0), (180.0, 20.0, 0.0)), "post", "bottom")
    both = [Shown(rail, "worked"), Shown(post, "worked")]
    assert picture_of(bench, *both, cues=[above, under]).missing == ()
    assert picture_of(bench, *both, cues=[under]).missing == ("where `post` is sanded",)


def test_the_finding_stands_at_the_step(bench):
    timeline = bench.timeline()
    assert not_shown(timeline.design, {}) == ()
    empty = step_picture(timeline, replace(bench.sawn(), show=None), *ROOM)
    assert empty.missing == ("anything at all",)
    assert NOT_SHOWN.code == "PRI02"


@pytest.mark.parametrize("name", ["x" * 200, "صندوق صغير", "引き出しの前板", "a\u0301" * 60])
@pytest.mark.parametrize("ink", ["colour", "black"])
def test_names_of_any_script_leave_room_for_the_drawing(bench, name, ink):
    rail = bench.piece(name, block((0, 0, 0), (200, 40, 20)))
    picture = picture_of(bench, Shown(rail, "worked"), ink=ink)
    assert picture.missing == ()
    left, _, right, _ = bench.extent(picture)
    assert left >= 0
    assert right <= picture.width


def test_a_piece_a_fifth_of_a_millimetre_thick_and_faces_in_one_plane(bench):
    sheet = bench.piece("veneer", block((0, 0, 20), (200, 40, 20.2)))
    twins = [bench.piece(f"twin {k}", block((0, 0, 0), (200, 40, 20))) for k in range(2)]
    picture = picture_of(bench, Shown(sheet, "new"), *(Shown(t, "context") for t in twins))
    assert picture.missing == ()


def test_forty_pieces(bench):
    blocks = [bench.piece(f"block {k}", block((30 * k, 0, 0), (30 * k + 20, 20, 20))) for k in range(40)]
    picture = picture_of(bench, *(Shown(b, "worked") for b in blocks))
    assert picture.marks
    assert picture.missing == ()


def test_a_triangle_is_cut_where_the_value_passes_zero():
    corner = np.array([[[0.0, 0.0], [2.0, 0.0], [0.0, 2.0]]])
    value = corner[:, :, 0] - 1.0
    parts, of = above_zero(corner, value)
    rest, _ = above_zero(corner, -value)

    def area(triangles):
        one, two = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
        return float(np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]).sum() / 2)

    assert area(parts) == pytest.approx(0.5)
    assert area(rest) == pytest.approx(1.5)
    assert of.tolist() == [0]
