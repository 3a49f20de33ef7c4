"""Where the blade comes in and goes is seen on the picture of a saw cut, whatever is drawn out in front of it."""

from dataclasses import replace
from pathlib import Path

import pytest

from planbook.drawing.cues import world_points
from planbook.drawing.marks import Stroke
from planbook.drawing.scene import step_picture
from planbook.drawing.sight import points_in_sight
from planbook.drawing.stage import stages
from planbook.drawing.steps import drawn_event
from planbook.reader import read_design
from planbook.solids.frames import plus
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown
from planbook.workshop.run import build
from planbook.workshop.timeline import WAY_IN

SAMPLES = Path(__file__).parents[2] / "designs"
STARTERS = Path(__file__).parents[2] / "planbook" / "starters"
OUT = 60.0


def sawn(bench, *spots, out=OUT):
    """A block drawn out to the front of a body, with ways in from these points of its front to the block."""
    hole, heart = block((29, -1, 29), (71, 61, 71)), block((30, 0, 30), (70, 60, 70))
    shown = [
        Shown(bench.piece("body", block((0, 0, 0), (100, 60, 100)).minus(hole)), "new"),
        Shown(bench.piece("heart", heart), "new", (0.0, -out, 0.0)),
    ]
    ways = [Cue("cut line", ((x, 0.0, z), (end, 0.0, z)), "body", WAY_IN) for x, end, z in spots]
    return bench.event("saw", "front", shown, ways)


def seen(event):
    (stage,) = stages(event)
    return stage.choice.words, {s.piece.name: s.apart for s in stage.pieces}


def test_a_way_in_that_is_seen_into_the_hole_changes_nothing(bench):
    words, apart = seen(sawn(bench, (100.0, 71.0, 45.0), out=80.0))
    assert words == "front right and above"
    assert apart["heart"] == (0, -80, 0)


def test_what_stands_at_the_end_of_a_way_in_is_drawn_out_farther(bench):
    """It would cover the line to which the way leads."""
    words, apart = seen(sawn(bench, (100.0, 71.0, 45.0)))
    assert words == "front right and above"
    assert apart["heart"] == (0, -1.25 * OUT, 0)


def test_one_that_lies_behind_it_is_looked_at_from_its_side(bench):
    words, apart = seen(sawn(bench, (0.0, 29.0, 35.0), out=80.0))
    assert words == "front left and above"
    assert apart["heart"] == (0, -80, 0)


def test_where_no_side_shows_them_all_the_part_is_drawn_out_farther(bench):
    words, apart = seen(sawn(bench, (0.0, 29.0, 30.0), (100.0, 71.0, 30.0)))
    assert words == "front right and above"
    assert -3 * OUT < apart["heart"][1] < -OUT


def test_a_picture_with_a_part_in_its_place_does_not_say_that_it_is_pulled_apart(bench):
    event = sawn(bench, (29.0, 29.0, 5.0), (71.0, 71.0, 5.0), (0.0, 29.0, 30.0), (100.0, 71.0, 30.0))
    told = step_picture(bench.timeline(), event, 90.0, 70.0).alt
    assert ("pulled apart" in told) == any(any(s.apart) for s in stages(event)[0].pieces)


@pytest.mark.parametrize(
    ("name", "number", "ways"), [("curlew-box", 9, 2), ("curlew-box", 13, 1), ("pebble-box", 9, 1)]
)
def test_ways_in_of_samples_reach_the_edge_of_the_wood(name, number, ways):
    timeline = build(read_design(SAMPLES / name).design)
    event = drawn_event(timeline.of_step(timeline.design.steps[number - 1]))
    assert sum(cue.text == WAY_IN for cue in event.show.cues) == ways
    drawn = step_picture(timeline, event, 110.0, 80.0).of_layer("cut line")
    without = [cue for cue in event.show.cues if cue.text != WAY_IN]
    assert len({mark.points for mark in drawn if isinstance(mark, Stroke)}) == len(without) + ways


@pytest.mark.parametrize(("name", "number"), [("curlew-box", 9), ("pebble-box", 9)])
def test_the_blocks_of_samples_are_out_and_the_way_in_is_seen_into_the_hole(name, number):
    """All of the way is seen, and on its other end the edge of the hole to which it leads."""
    timeline = build(read_design(SAMPLES / name).design)
    (stage,) = stages(drawn_event(timeline.of_step(timeline.design.steps[number - 1])))
    out = [s.apart[1] for s in stage.pieces if any(s.apart)]
    assert out
    assert all(y < -90.0 for y in out)
    for cue in (cue for cue in stage.show.cues if cue.text == WAY_IN):
        start, end = cue.points[0], cue.points[-1]
        spots = [tuple(a + share * (b - a) for a, b in zip(start, end, strict=True)) for share in (0.1, 0.5, 0.9, 1.3)]
        seen = points_in_sight(spots, stage.pieces, stage.look.view)
        assert seen == spots


def test_parts_are_drawn_out_from_the_largest_of_their_own_piece(bench):
    """Two bodies side by side, each with a block drawn out of it: neither comes nearer to the other."""
    ring = ((29, 0, 29), (71, 0, 29), (71, 0, 71), (29, 0, 71), (29, 0, 29))
    shown, lines = [], []
    for name, x in (("one", 0.0), ("two", 150.0)):
        for shape in sawn(bench).show.pieces:
            piece = replace(shape.piece, name=f"{name} {shape.piece.name}", sources=(name,))
            shown.append(replace(shape, piece=piece, apart=plus(shape.apart, (x, 0.0, 0.0))))
        lines.append(Cue("cut line", ring, f"{name} body"))
    (stage,) = stages(bench.event("saw", "front", shown, lines))
    apart = {s.piece.name: s.apart for s in stage.pieces}
    assert (apart["one body"], apart["two body"]) == ((0, 0, 0), (150, 0, 0))
    assert apart["one heart"][1] == apart["two heart"][1] < -OUT
    assert (apart["one heart"][0], apart["two heart"][0]) == (0, 150)


@pytest.mark.parametrize(("up", "in_place"), [(-40.0, True), (40.0, False)])
def test_waste_that_would_lie_below_what_was_sawn_of_it_stays_in_its_place(bench, up, in_place):
    """A slug out of the middle of a board of 200 x 120 mm, drawn out of it downward or upward."""
    board = block((0, 0, 0), (200, 120, 15)).minus(block((80, 40, -1), (120, 80, 16)))
    slug = Shown(bench.piece("slug", block((81, 41, 0), (119, 79, 15))), "waste", (0, 0, up))
    ring = ((80, 40, 15), (120, 40, 15), (120, 80, 15), (80, 80, 15), (80, 40, 15))
    shown = [Shown(bench.piece("board", board), "new"), slug]
    (stage,) = stages(bench.event("saw", "top", shown, [Cue("cut line", ring, "board")]))
    assert [s.apart[2] == 0 for s in stage.pieces if s.role == "waste"] == [in_place]


@pytest.mark.parametrize(
    ("name", "number"), [("curlew-box", 13), ("dory-stool", 6), ("heron-puzzle", 6), ("pebble-box", 9)]
)
def test_lines_of_samples_are_seen_on_the_parts_that_they_are_left_on(name, number):
    timeline = build(read_design(SAMPLES / name).design)
    event = drawn_event(timeline.of_step(timeline.design.steps[number - 1]))
    (stage,) = stages(event)
    assert [cue.piece for cue in stage.show.cues] == [cue.piece for cue in event.show.cues]
    for cue in (cue for cue in stage.show.cues if cue.kind == "cut line" and cue.text != WAY_IN):
        points = world_points(cue, stage.pieces)
        assert len(points_in_sight(points, stage.pieces, stage.look.view)) > 0.9 * len(points)


def test_the_way_in_is_drawn_on_the_wood_around_a_larger_heart():
    timeline = build(read_design(STARTERS / "sawn-box").design)
    event = drawn_event(timeline.of_step(timeline.design.steps[7]))
    size = {s.piece.name: s.piece.solid.volume for s in event.show.pieces}
    assert size["core"] > size["ring"]
    assert {cue.piece for cue in event.show.cues if cue.text == WAY_IN} == {"ring"}
