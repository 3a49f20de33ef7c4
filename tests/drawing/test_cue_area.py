"""Ticks of sanding keep off the edges of their face; rings of glue find room on narrow faces too."""

import itertools
import math

import pytest
from shapely.geometry import LineString
from shapely.ops import unary_union

from planbook.drawing.ink import PAPER, SERIES
from planbook.drawing.marks import Stroke
from planbook.drawing.scene import step_picture
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
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


def test_the_narrow_parts_of_a_wide_face_have_ticks_too(bench):
    """A face with an opening that leaves a band of 25 mm on the left, and 12 mm above and below."""
    ticks, edges = sanded(bench, block((0, 0, 0), (300, 20, 120)).minus(block((25, -1, 12), (200, 21, 108))))
    middle = (edges.bounds[0] + edges.bounds[2]) / 2
    left = [tick for tick in ticks if tick.centroid.x < middle]
    low = max(tick.centroid.y for tick in left) - min(tick.centroid.y for tick in left)
    assert len(left) >= 6
    assert low > 10, "above the opening and below it"


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


SCALE = 0.1
"""Of the pictures below, mm of paper for one mm; each mm of a level edge is sqrt(2/3) of it in an isometric view."""


def dadoed(bench, wide: float, glue: tuple[float, ...] = (50.0,)):
    """The rings on an upright board with dados at 50 and 150 mm, of which some have glue on their floor."""
    cuts = [block((10, -1, z), (21, 201, z + wide)) for z in (50.0, 150.0)]
    solid = block((0, 0, 0), (20, 200, 250)).minus(*cuts)
    rings = [((10.0, 0.0, z), (10.0, 200.0, z), (10.0, 200.0, z + wide), (10.0, 0.0, z + wide)) for z in glue]
    event = bench.event(
        "glue up",
        "right",
        [Shown(bench.piece("side", solid), "worked")],
        [Cue("glue face", ring, "side") for ring in rings],
    )
    picture = step_picture(bench.timeline(), event, 98, 64, scale=SCALE)
    return picture, [m for m in picture.of_layer("glue face") if isinstance(m, Stroke) and m.pen.colour == PAPER]


@pytest.mark.parametrize("wide", [22.0, 30.0])
def test_a_narrow_dado_has_a_row_of_rings_along_its_middle(bench, wide):
    """Its floor, 10 mm deep, is seen less its upper lip: `wide` - 10 mm high, so 1 or 1.6 mm on paper."""
    _, rings = dadoed(bench, wide)
    spots = sorted(ring.points[0] for ring in rings)
    long = 200 * SCALE * math.sqrt(2 / 3)
    assert 0.3 * long < math.dist(spots[0], spots[-1]) < long
    apart = [math.dist(*pair) for pair in itertools.pairwise(spots)]
    assert min(apart) > 1.5
    assert max(apart) < 3.2
    slope = [abs(b[1] - a[1]) / (b[0] - a[0]) for a, b in itertools.pairwise(spots)]
    assert slope == pytest.approx([math.tan(math.radians(30))] * len(slope), abs=0.13), "one row along the dado"


def test_a_dry_dado_has_none(bench):
    _, rings = dadoed(bench, 22.0)
    _, both = dadoed(bench, 22.0, (50.0, 150.0))
    assert rings
    assert len(both) == 2 * len(rings)
    lower = {ring.points[0] for ring in rings}
    upper = {ring.points[0] for ring in both} - lower
    assert len(upper) == len(rings)
    assert not dadoed(bench, 22.0, ())[1]


def test_no_ring_is_drawn_on_what_is_too_narrow_to_be_seen(bench):
    assert not dadoed(bench, 11.0)[1]


def test_rings_are_not_smaller_where_it_is_narrow(bench):
    narrow, wide = ({m.pen.width for m in dadoed(bench, w)[0].of_layer("glue face")} for w in (22.0, 90.0))
    assert narrow == wide
    assert max(narrow) >= 0.8


def test_rings_of_two_joints_do_not_run_together(bench):
    """The floor and the lower wall of a dado lie beside one another: where one has a ring, the other has none."""
    solid = block((0, 0, 0), (20, 200, 250)).minus(block((10, -1, 50), (21, 201, 65)))
    floor = ((10.0, 0.0, 50.0), (10.0, 200.0, 50.0), (10.0, 200.0, 65.0), (10.0, 0.0, 65.0))
    wall = ((10.0, 0.0, 50.0), (20.0, 0.0, 50.0), (20.0, 200.0, 50.0), (10.0, 200.0, 50.0))
    cues = [Cue("glue face", ring, "side") for ring in (floor, wall)]
    found = []
    for some in (cues[:1], cues[1:], cues):
        event = bench.event("glue up", "right", [Shown(bench.piece("side", solid), "worked")], some)
        marks = step_picture(bench.timeline(), event, 98, 64, scale=SCALE).of_layer("glue face")
        found.append([m.points[0] for m in marks if isinstance(m, Stroke) and m.pen.colour == PAPER])
    floors, walls, both = found
    assert floors
    assert walls
    assert {*floors} <= {*both} <= {*floors, *walls}
    assert min(math.dist(*pair) for pair in itertools.combinations(both, 2)) >= 1.2
    assert min(math.dist(a, b) for a in floors for b in walls) < 1.2


PEG = cylinder(FACE_FRAMES["top"], (0, 0), 20, 0, 100)


def around(bench, foot: float, mouth: float, scale: float = 0.25, *before):
    """The rings on an upright peg, 20 mm in radius and 100 mm high, with glue between two heights."""
    cue = Cue("glue face", ((0.0, 0.0, foot), (0.0, 0.0, mouth)), "peg")
    shown = [Shown(bench.piece("peg", PEG), "worked"), *(Shown(bench.piece("board", b), "worked") for b in before)]
    picture = step_picture(bench.timeline(), bench.event("plug", "top", shown, [cue]), 98, 64, scale=scale)
    outline = unary_union([LineString(m.points) for m in picture.marks if isinstance(m, Stroke) and len(m.points) > 1])
    low, high = outline.bounds[1], outline.bounds[3]
    return [m.points[0] for m in picture.of_layer("glue face") if m.pen.colour == PAPER], low, high


def test_glue_around_a_peg_lies_on_its_side_as_far_as_it_goes_in(bench):
    """At a quarter of its size its lower 40 mm take 40 / 4 * sqrt(2/3) = 8.2 mm of paper, the ellipse of its end 5.8."""
    spots, _, low = around(bench, 0.0, 40.0)
    assert len(spots) > 15
    assert min(y for _, y in spots) > low - 8.2 - 5.8
    whole, _, _ = around(bench, 0.0, 100.0)
    assert len(whole) > 2 * len(spots)


def test_glue_out_of_sight_or_on_what_is_too_small_leaves_no_ring(bench):
    socket = block((-60, -60, -1), (60, 60, 50)).minus(cylinder(FACE_FRAMES["top"], (0, 0), 21, -2, 51))
    assert around(bench, 0.0, 40.0, 0.25, socket)[0] == []
    assert around(bench, 0.0, 40.0, 0.02)[0] == []
