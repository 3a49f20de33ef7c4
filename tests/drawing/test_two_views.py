"""Work on two sides of a thing: a second view stands beside the first, and shows what the first one hides."""

import pytest

from planbook.drawing.marks import Stroke, Words
from planbook.drawing.scene import BROAD, step_picture, step_scale, unseen
from planbook.drawing.stage import stages
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown


def pegs(bench, size=12.0):
    """A board with a peg on the way to its left, and another on the way to its right side."""
    board = bench.piece("board", block((0, 0, 0), (60, 120, 120)))
    low, high = 60 - size / 2, 60 + size / 2
    left = bench.piece("left peg", block((-size, low, low), (0, high, high)), "black walnut")
    right = bench.piece("right peg", block((60, low, low), (60 + size, high, high)), "black walnut")
    push = [
        Cue("push", ((-40.0, 60.0, 60.0), (-20.0, 60.0, 60.0)), "left peg"),
        Cue("push", ((100.0, 60.0, 60.0), (80.0, 60.0, 60.0)), "right peg"),
    ]
    shown = [
        Shown(board, "worked"),
        Shown(left, "worked", (-8.0, 0.0, 0.0)),
        Shown(right, "worked", (8.0, 0.0, 0.0)),
    ]
    return bench.event("plug", "left", shown, push)


def test_each_peg_is_named_in_the_view_that_shows_it(bench):
    event = pegs(bench)
    first, second = stages(event)
    assert first.choice.view != second.choice.view
    assert {first.pieces[n].piece.name for n in first.matters} == {"board", "left peg"}
    assert {second.pieces[n].piece.name for n in second.matters} == {"right peg"}
    for stage in (first, second):
        assert all(stage.look.area_of(n) > 20 for n in stage.matters)
    assert [cue.piece for cue in first.show.cues] == ["left peg"]
    assert [cue.piece for cue in second.show.cues] == ["right peg"]


@pytest.mark.parametrize("width", [98.0, 80.0])
def test_the_two_views_stand_side_by_side_and_nothing_is_missed(bench, overlaps, width):
    event = pegs(bench)
    picture = step_picture(bench.timeline(), event, width, 64.0)
    assert picture.missing == ()
    assert unseen(picture) == ()
    (line,) = picture.of_layer("between views")
    assert isinstance(line, Stroke)
    middle = line.points[0][0]
    where = {m.text: m.at[0] for m in picture.of_layer("name") if isinstance(m, Words)}
    text = " ".join([*where, *bench.texts(picture, "key")])
    assert all(word in text for word in ("board", "left", "right", "peg"))
    assert min(where.values()) < middle < max(where.values())
    assert overlaps(bench.boxes(picture)) == []
    left, top, right, bottom = bench.extent(picture)
    assert min(left, top) >= -0.1
    assert picture.width == pytest.approx(BROAD * width)
    assert right <= picture.width + 0.1
    assert bottom <= picture.height + 0.1
    assert picture.height <= 64.1
    assert "Beside it: seen from" in picture.alt
    assert any("Seen from" in text for text in bench.texts(picture, "view"))


def test_a_narrow_picture_has_one_view(bench):
    assert not step_picture(bench.timeline(), pegs(bench), 60.0, 64.0).of_layer("between views")


def test_the_scale_is_that_of_the_first_view(bench):
    event = pegs(bench)
    scale = step_scale(bench.timeline(), event, 98.0, 64.0)
    assert scale is not None
    alone = step_scale(bench.timeline(), bench.event("plug", "left", event.show.pieces[:2]), 98.0, 64.0)
    assert alone is not None
    assert scale <= alone


def test_one_view_is_enough_where_it_shows_all(bench):
    event = pegs(bench)
    (only,) = stages(bench.event("plug", "left", event.show.pieces[:2], event.show.cues[:1]))
    assert only.choice.other is None


def test_what_no_view_shows_stays_missing_or_dashed(bench):
    core = bench.piece("core", block((10, 10, 10), (50, 50, 50)), "black walnut")
    shell = bench.piece("shell", block((0, 0, 0), (60, 60, 60)).minus(block((9, 9, 9), (51, 51, 51))))
    event = bench.event("assemble", "top", [Shown(core, "new"), Shown(shell, "context")])
    assert len(stages(event)) == 1
    assert unseen(step_picture(bench.timeline(), event, 98.0, 64.0)) == ("core",)
