"""Lines to cut on step pictures: along what is really sawn, and where a reader sees them."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from shapely.geometry import LineString

from planbook.drawing.ink import LINE, PAPER
from planbook.drawing.marks import Picture, Stroke
from planbook.drawing.paint import NEW_OUTLINE
from planbook.drawing.scene import step_picture, step_scale
from planbook.drawing.stage import stages
from planbook.drawing.steps import drawn_event
from planbook.reader import read_design
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown
from planbook.workshop.run import build
from planbook.workshop.timeline import MIDDLE

SAMPLES = Path(__file__).parents[2] / "designs"


@pytest.fixture(scope="module")
def curlew():
    return build(read_design(SAMPLES / "curlew-box").design)


def picture_of(timeline, number: int) -> Picture:
    event = drawn_event(timeline.of_step(timeline.design.steps[number - 1]))
    return step_picture(timeline, event, 110.0, 80.0)


def cut(picture: Picture) -> float:
    """How long the line to cut is, mm on paper, without its bed."""
    strokes = [mark for mark in picture.of_layer("cut line") if isinstance(mark, Stroke)]
    return sum(LineString((*m.points, m.points[0]) if m.closed else m.points).length for m in strokes) / 2


@pytest.mark.parametrize("number", [4, 5, 6])
def test_no_line_runs_along_edges_where_nothing_comes_off(curlew, number):
    """The arch of the box stands on the lower edge of its blank and as wide: its stencil shows the arch alone."""
    picture = picture_of(curlew, number)
    layer = "printed line" if number == 4 else "cut line"
    lines = [mark for mark in picture.of_layer(layer) if isinstance(mark, Stroke)]
    assert len({mark.points for mark in lines}) == 1
    assert not any(mark.closed for mark in lines)
    low = max(p[1] for mark in lines for p in mark.points)
    edges = [mark for mark in picture.marks if isinstance(mark, Stroke) and mark.layer in ("outline", NEW_OUTLINE)]
    assert low < max(p[1] for mark in edges for p in mark.points) - 5.0


@pytest.mark.parametrize("ink", ["colour", "black"])
def test_a_line_is_not_chopped_by_the_bed_of_one_that_it_meets(bench, ink):
    """Two lines that cross on the front of a block: both beds lie below both lines."""
    across, up = ((0, 0, 50), (100, 0, 50)), ((50, 0, 0), (50, 0, 100))
    shown = [Shown(bench.piece("block", block((0, 0, 0), (100, 60, 100))), "new")]
    cues = [Cue("cut line", points, "block") for points in (across, up)]
    picture = step_picture(bench.timeline(), bench.event("saw", "front", shown, cues), 110.0, 80.0, ink)
    strokes = [mark for mark in picture.of_layer("cut line") if isinstance(mark, Stroke)]
    widths = [mark.pen.width for mark in strokes]
    beds = {"colour": 1, "black": 2}[ink]
    assert len(strokes) == 2 * (beds + 1)
    assert widths == sorted(widths, reverse=True)
    assert [mark.points for mark in strokes[:2]] == [mark.points for mark in strokes[-2:]]


def test_in_black_ink_the_two_lines_of_a_cut_are_strong_and_lie_on_white(bench):
    """Neither squares nor stripes run into them: each is 0.25 mm wide, with 0.2 mm of white beside it."""
    shown = [Shown(bench.piece("block", block((0, 0, 0), (100, 60, 100))), "new")]
    cues = [Cue("cut line", ((0, 0, 50), (100, 0, 50)), "block")]
    picture = step_picture(bench.timeline(), bench.event("saw", "front", shown, cues), 110.0, 80.0, "black")
    bed, dark, kerf = (mark.pen for mark in picture.of_layer("cut line") if isinstance(mark, Stroke))
    assert (bed.colour, dark.colour, kerf.colour) == (PAPER, LINE, PAPER)
    assert (dark.width - kerf.width) / 2 > 0.24
    assert (bed.width - dark.width) / 2 > 0.19


def test_lines_of_two_pieces_stay_apart(bench):
    """Each bed lies right below its own line, over the line of the piece before it in the list."""
    shown = [Shown(bench.piece(n, block((x, 0, 0), (x + 50, 60, 100))), "new") for n, x in (("left", 0), ("right", 51))]
    cues = [Cue("cut line", ((x, 0, 50), (x + 50, 0, 50)), n) for n, x in (("left", 0), ("right", 51))]
    picture = step_picture(bench.timeline(), bench.event("saw", "front", shown, cues), 110.0, 80.0)
    widths = [mark.pen.width for mark in picture.of_layer("cut line") if isinstance(mark, Stroke)]
    assert len(widths) == 4
    assert min(widths[::2]) > max(widths[1::2])


def plugged(bench, far: float, out: float = 1.0, text: str = ""):
    """A plug pulled out of the front of a block, and a line around its mouth that is told of the block."""
    hole, plug = block((30, -1, 30), (70, 61, 70)), block((30.5, 0, 30.5), (69.5, 60, 69.5))
    shown = [
        Shown(bench.piece("block", block((0, 0, 0), (100, 60, 100)).minus(hole)), "new"),
        Shown(bench.piece("plug", plug), "new", (0.0, -far * out, far * (1.0 - out))),
    ]
    ring = ((30, 0, 30), (70, 0, 30), (70, 0, 70), (30, 0, 70), (30, 0, 30))
    return bench.event("saw", "front", shown, [Cue("cut line", ring, "block", text)])


@pytest.mark.parametrize("text", ["", MIDDLE])
@pytest.mark.parametrize("far", [20.0, 55.0])
def test_a_cut_is_seen_all_around_though_one_part_stands_before_the_other(bench, far, text):
    event = plugged(bench, far, text=text)
    scale = step_scale(bench.timeline(), event, 110.0, 80.0)
    assert scale is not None
    picture = step_picture(bench.timeline(), event, 110.0, 80.0)
    # Along the axes of the world all is drawn at sqrt(2/3) of its length in an isometric view (ISO 5456-3).
    assert cut(picture) == pytest.approx(160 * math.sqrt(2 / 3) * scale, rel=0.02)
    assert not picture.missing


def test_a_line_stays_on_the_part_that_it_is_left_on_and_the_other_is_drawn_out_until_it_is_seen(bench):
    """Straight up, the plug hides nothing of the mouth that it came out of; drawn out less than its length, it does."""
    for far, out, least in ((160.0, 0.0, 0.0), (55.0, 1.0, 60.0)):
        (place,) = stages(plugged(bench, far, out))
        assert [cue.piece for cue in place.show.cues] == ["block"]
        apart = {s.piece.name: s.apart for s in place.pieces}
        assert apart["block"] == (0, 0, 0)
        assert -apart["plug"][1] >= least
    assert apart["plug"][1] < -55.0


def test_a_part_that_would_have_to_go_too_far_stays_in_its_place(bench):
    """It is 60 mm deep, and drawn out no more than 2.5 times the 20 mm that it is drawn out else."""
    (place,) = stages(plugged(bench, 20.0))
    assert all(s.apart == (0, 0, 0) for s in place.pieces)


def test_a_line_in_the_middle_of_its_kerf_goes_to_the_part_on_which_it_is_seen(bench):
    (place,) = stages(plugged(bench, 55.0, text=MIDDLE))
    assert [cue.piece for cue in place.show.cues] == ["plug"]
    assert {s.apart for s in place.pieces} == {(0, 0, 0), (0, -55, 0)}


@pytest.fixture(scope="module")
def pebble():
    return build(read_design(SAMPLES / "pebble-box").design)


def test_a_first_cut_keeps_its_line_where_a_second_one_cuts_the_rest_up(pebble):
    """Step 20 saws the top off straight across and then the hollow out of what is left."""
    steps = pebble.of_step(pebble.design.steps[19])
    first, second = (event for event in steps if event.operation.kind == "saw")
    event = drawn_event(steps)
    straight = first.show.cues[0].points
    assert [cue.points for cue in event.show.cues] == [cue.points for e in (first, second) for cue in e.show.cues]
    names = {s.piece.name for s in event.show.pieces}
    assert all(cue.piece in names for cue in event.show.cues)
    (stage, *_) = stages(event)
    assert [cue.piece for cue in stage.show.cues if cue.points == straight] == ["block top"]
    alone = replace(event, show=replace(event.show, cues=second.show.cues))
    both, one = (cut(step_picture(pebble, each, 110.0, 80.0)) for each in (event, alone))
    scale = step_scale(pebble, event, 110.0, 80.0)
    # An isometric view shows what runs along an axis at sqrt(2/3) of its length.
    low, high = next(s.piece for s in event.show.pieces if s.piece.name == "block top").solid.bounds
    assert both - one == pytest.approx((high[0] - low[0]) * math.sqrt(2 / 3) * scale, rel=0.08)


def test_other_signs_of_what_is_cut_up_are_left_out(pebble):
    steps = pebble.of_step(pebble.design.steps[19])
    first, second = (event for event in steps if event.operation.kind == "saw")
    signs = (Cue("sand", first.show.cues[0].points, "low block"), Cue("cut line", ((0, 0, 0), (1, 0, 0)), "elsewhere"))
    marked = replace(first, show=replace(first.show, cues=signs))
    assert [cue.kind for cue in drawn_event([marked, second]).show.cues] == [cue.kind for cue in second.show.cues]
