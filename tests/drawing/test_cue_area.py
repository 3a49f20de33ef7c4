"""Ticks of sanding keep off the edges of their face, where they would be read as lines of the drawing."""

import pytest
from shapely.geometry import LineString
from shapely.ops import unary_union

from planbook.drawing.ink import PAPER, SERIES
from planbook.drawing.marks import Stroke
from planbook.drawing.scene import step_picture
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown


def sanded(bench, solid):
    cue = Cue("sand", (solid.bounds[0],), "board", "front")
    picture = step_picture(
        bench.timeline(),
        bench.event("sand face", "front", [Shown(bench.piece("board", solid), "worked")], [cue]),
        98,
        64,
    )
    lines = [m for m in picture.marks if isinstance(m, Stroke) and m.layer in ("outline", "crease")]
    edges = unary_union([LineString([*m.points, m.points[0]] if m.closed else m.points) for m in lines])
    return [LineString(m.points) for m in picture.of_layer("sand")], edges


@pytest.mark.parametrize("size", [(300, 20, 500), (310, 20, 480), (130, 60, 90), (777, 20, 333)])
def test_no_tick_lies_on_an_edge(bench, size):
    holed = block((0, 0, 0), size).minus(block((40, -1, 30), (75, 99, 60)))
    for solid in (block((0, 0, 0), size), holed):
        ticks, edges = sanded(bench, solid)
        assert len(ticks) > 20
        assert min(tick.distance(edges) for tick in ticks) > 0.4


def test_a_face_too_narrow_for_that_has_its_ticks_all_the_same(bench):
    ticks, _ = sanded(bench, block((0, 0, 0), (300, 100, 4)))
    assert ticks


@pytest.mark.parametrize("ink", ["colour", "black"])
def test_a_tick_is_wider_than_the_white_beside_it(bench, ink):
    solid = block((0, 0, 0), (300, 20, 500))
    event = bench.event(
        "sand face",
        "front",
        [Shown(bench.piece("board", solid), "worked")],
        [Cue("sand", (solid.bounds[0],), "board", "front")],
    )
    pens = {m.pen for m in step_picture(bench.timeline(), event, 98, 64, ink).of_layer("sand")}
    bed, tick = sorted(pens, key=lambda pen: -pen.width)
    assert bed.colour == PAPER
    assert tick.width in SERIES
    assert bed.width - tick.width < tick.width
