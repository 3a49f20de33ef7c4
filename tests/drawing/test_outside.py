"""How much room signs are given beside the pieces: as much as they take, and only where they take it."""

import random

import pytest

from planbook.drawing import cues
from planbook.drawing.look import look
from planbook.drawing.marks import Fill, Stroke
from planbook.drawing.outside import beyond
from planbook.drawing.paper import Paper
from planbook.drawing.scene import step_picture
from planbook.drawing.stage import bounds, stages
from planbook.drawing.views import HOME
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown

BLOCK = block((0, 0, 0), (120, 80, 60))


@pytest.mark.parametrize("seed", range(30))
def test_signs_lie_within_the_room_they_are_given(bench, seed):
    """Signs at random places and ways, drawn at the least scale and at larger ones."""
    chance = random.Random(seed)
    shown = (Shown(bench.piece("block", BLOCK), "worked"),)
    tip = tuple(
        chance.choice([0.0, side]) if chance.random() < 0.4 else chance.uniform(0, side) for side in (120, 80, 60)
    )
    tail = tuple(at + chance.uniform(-60, 60) for at in tip)
    cue = Cue(chance.choice(["push", "clamp", "drill axis"]), (tail, tip), "block")
    seen = look(tuple((s.piece, s.apart) for s in shown), HOME)
    (stage,) = stages(bench.event("assemble", "front", shown, [cue]), two=False)
    edge = bounds(stage)
    least = chance.uniform(0.05, 0.5)
    room = beyond([cue], stage.pieces, HOME, edge, least)
    for scale in (least, 1.5 * least, 3 * least):
        points = points_of(cues.drawn(cue, stage.pieces, seen, Paper(scale, 0.0, 0.0), "colour"))
        # One that would mislead is left out, and takes no room at all.
        xs, ys = zip(*(points or [(scale * edge[0], -scale * edge[1])]), strict=True)
        assert min(xs) >= scale * edge[0] - room[0] - 0.3
        assert max(xs) <= scale * edge[2] + room[2] + 0.3
        assert min(ys) >= -scale * edge[3] - room[1] - 0.3
        assert max(ys) <= -scale * edge[1] + room[3] + 0.3


def points_of(marks):
    lines = [m.points for m in marks if isinstance(m, Stroke)]
    return [p for line in [*lines, *(r for m in marks if isinstance(m, Fill) for r in m.rings)] for p in line]


def test_an_arrow_takes_room_only_on_the_side_that_it_comes_from(bench):
    shown = [Shown(bench.piece("block", BLOCK), "worked")]
    (stage,) = stages(bench.event("clamp", "front", shown), two=False)
    down = Cue("push", ((60.0, 40.0, 70.0), (60.0, 40.0, 60.0)), "block")
    left, above, right, below = beyond([down], stage.pieces, HOME, bounds(stage), 0.1)
    assert left == right == below == 0.0
    assert above > 1.0
    assert beyond([], stage.pieces, HOME, bounds(stage), 0.1) == (0.0, 0.0, 0.0, 0.0)


def test_clamps_at_both_ends_leave_the_height_to_the_drawing(bench):
    """A tall board that is pressed from the sides is drawn nearly as high as the paper."""
    board = bench.piece("board", block((0, 0, 0), (90, 20, 400)))
    ends = [((-20.0, 10.0, 200.0), (0.0, 10.0, 200.0)), ((110.0, 10.0, 200.0), (90.0, 10.0, 200.0))]
    event = bench.event("glue up", "front", [Shown(board, "worked")], [Cue("clamp", way, "board") for way in ends])
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    ys = [p[1] for m in picture.of_layer("face") for ring in m.rings for p in ring]
    assert max(ys) - min(ys) > 55.0
