"""The clamps of the sample designs: both ends are drawn, on the wood, and press on wood all the way across."""

import itertools
import math
from pathlib import Path

import pytest
from shapely.geometry import Point, Polygon

from planbook.booklet import STEP_ROOM
from planbook.drawing.marks import Fill, Stroke
from planbook.drawing.pads import UNSEEN
from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_event
from planbook.reader import read_design
from planbook.solids.frames import negated, plus, times
from planbook.workshop.run import build
from planbook.workshop.timeline import AT_A_CUT

ROOT = Path(__file__).parents[2]
DESIGNS = [
    *(ROOT / "designs").iterdir(),
    *(ROOT / "planbook/starters" / name for name in ("sawn-box", "shelf", "tray")),
]
TONGUE = 70.0
"""No tongue of the samples is as high as that, with half of its shoulders, mm."""


@pytest.fixture(scope="module", params=sorted(DESIGNS), ids=lambda path: path.name)
def made(request):
    return build(read_design(request.param).design)


def test_between_the_two_ends_of_a_clamp_is_wood_and_nothing_else(made):
    for event in made.events:
        cues = [cue for cue in (event.show.cues if event.show else ()) if cue.kind == "clamp"]
        lines = []
        for one, two in zip(cues[::2], cues[1::2], strict=True):
            if one.text == AT_A_CUT:
                continue
            tips = one.points[-1], two.points[-1]
            way = times(plus(tips[1], negated(tips[0])), 1 / math.dist(*tips))
            start, end = plus(tips[0], times(way, -1.0)), plus(tips[1], times(way, 1.0))
            hits = [s.piece.solid.hits(start, end) for s in event.show.pieces]
            runs = sorted(run for each in hits for run in zip(each[::2], each[1::2], strict=True))
            assert runs[0][0] == pytest.approx(1.0, abs=0.05)
            assert runs[-1][1] == pytest.approx(1.0 + math.dist(*tips), abs=0.05)
            through = all(b == pytest.approx(c, abs=0.05) for (_, b), (c, _) in itertools.pairwise(runs))
            lines.append((one.piece, tips[0], through))
        # Of two shoulders of one tongue, one may lie beside a hollow of the rail.
        for piece, tip, through in lines:
            assert through or any(
                other == piece and solid and math.dist(tip, at) < TONGUE for other, at, solid in lines
            )


def test_every_block_that_is_not_in_dashes_lies_wholly_on_a_face_that_is_seen(made):
    for step in made.design.steps:
        event = drawn_event(made.of_step(step))
        asked = sum(cue.kind == "clamp" for cue in event.show.cues) if event else 0
        if not asked:
            continue
        picture = step_picture(made, event, *STEP_ROOM)
        solid = [m.rings[0] for m in picture.of_layer("clamp") if isinstance(m, Fill) and len(m.rings[0]) == 4]
        dashed = [m for m in picture.of_layer(UNSEEN) if isinstance(m, Stroke) and m.pen.dashes and len(m.points) == 4]
        assert len(solid) + len(dashed) == asked
        for ring in solid:
            held = [sum(_inside(mark.rings, spot) for spot in _spots(ring)) for mark in picture.of_layer("face")]
            assert max(held) >= 15


def _spots(ring):
    """The corners of a block and places between them."""
    return [
        tuple((1 - t) * a + t * b for a, b in zip(one, two, strict=True))
        for one, two in zip(ring, (*ring[1:], ring[0]), strict=True)
        for t in (0.0, 0.25, 0.5, 0.75)
    ]


def _inside(rings, spot):
    """By the even-odd rule, as faces are filled."""
    return sum(Polygon(ring).contains(Point(spot)) for ring in rings if len(ring) > 3) % 2 == 1
