"""The signs in the picture of a step: lines to cut, axes, arrows, glue and ticks."""

import math

import pytest
from shapely.geometry import LineString, MultiPoint

from planbook.drawing.ink import PAPER
from planbook.drawing.marks import Fill, Stroke
from planbook.drawing.paint import CALM_OUTLINE
from planbook.drawing.scene import step_scale
from planbook.solids import FACE_FRAMES
from planbook.solids.plane import circle
from planbook.solids.solid import block, joined, prism
from planbook.workshop import Cue, Shown

from .conftest import HIGH, WIDE, holds, picture_of


def test_a_cue_moves_with_its_piece(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))
    base = bench.piece("base", block((0, 0, -200), (60, 60, -180)))
    line = Cue("cut line", ((10, 10, 60), (50, 10, 60), (50, 50, 60)), "cube")

    def height(apart):
        shown = [Shown(cube, "worked", (0, 0, apart)), Shown(base, "context")]
        picture = picture_of(bench, bench.event("saw", "top", shown, [line]), scale=0.1)
        cut = [p[1] for m in picture.of_layer("cut line") for p in m.points]
        base_low = max(p[1] for m in picture.of_layer(CALM_OUTLINE) for p in m.points)
        return base_low - min(cut)

    # Straight up is drawn at sqrt(2/3) of its length in an isometric view (descriptive geometry).
    assert height(100) - height(0) == pytest.approx(0.1 * 100 * (2 / 3) ** 0.5, abs=0.05)


def test_a_cut_line_is_not_drawn_where_a_piece_hides_it(bench):
    def length(aside):
        base = bench.piece("base", block((0, 0, 0), (200, 100, 10)))
        lid = bench.piece("lid", block((0, 0, 10), (100, 100, 20)))
        line = Cue("cut line", ((10, 50, 10), (190, 50, 10)), "base")
        shown = [Shown(base, "worked"), Shown(lid, "context", (0, aside, 0))]
        picture = picture_of(bench, bench.event("saw", "top", shown, [line]), scale=0.2)
        strokes = picture.of_layer("cut line")
        return sum(
            ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
            for m in strokes
            for a, b in zip(m.points, m.points[1:], strict=False)
        )

    # The eye looks along (-1, 1, -1), so the lid hides the line from x = 10 to x = 100 exactly.
    assert length(0) == pytest.approx(length(300) * 90 / 180, rel=0.08)


def test_a_closed_cut_line_stays_closed(bench):
    rim = bench.piece("rim", bench.rim())
    ring = ((20, 20, 60), (160, 20, 60), (160, 100, 60), (20, 100, 60), (20, 20, 60))
    picture = picture_of(bench, bench.event("stick", "top", [Shown(rim, "worked")], [Cue("cut line", ring, "rim")]))
    assert [(m.closed, len(m.points)) for m in picture.of_layer("cut line")] == [(True, 4), (True, 4)]


def test_an_axis_gets_its_cross_only_where_the_drill_meets_wood(bench):
    axis = Cue("drill axis", ((20, 30, 48), (20, 30, -6)), "rail")
    crosses = []
    for solid in (block((0, 0, 0), (160, 60, 30)), bench.bored()):
        shown = [Shown(bench.piece("rail", solid), "worked")]
        picture = picture_of(bench, bench.event("bore", "top", shown, [axis]))
        dashed = [m for m in picture.of_layer("drill axis") if m.pen.dashes]
        assert len(dashed) == 1
        crosses.append(len(picture.of_layer("drill axis")) - 1)
    assert crosses == [2, 0]


def test_an_arrow_to_a_hidden_face_stops_outside(bench):
    back = bench.piece("back", block((0, 50, 0), (100, 60, 80)))
    push = Cue("push", ((50, 100, 40), (50, 60, 40)), "back")
    picture = picture_of(bench, bench.event("glue", "front", [Shown(back, "worked")], [push]))
    arrow = next(m for m in picture.of_layer("push") if isinstance(m, Fill))
    faces = [m for m in picture.of_layer("face") if isinstance(m, Fill)]
    assert not any(holds(face, point) for face in faces for point in arrow.rings[0])


def test_glue_and_sand_signs_keep_to_their_faces(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))
    lid = bench.piece("lid", block((0, 0, 60), (60, 30, 70)))
    ring = ((0, 0, 60), (60, 0, 60), (60, 60, 60), (0, 60, 60))
    cues = [Cue("glue face", ring, "cube"), Cue("sand", ((30, 0, 30),), "cube", "front")]
    shown = [Shown(cube, "worked"), Shown(lid, "context")]
    picture = picture_of(bench, bench.event("glue", "top", shown, cues))
    faces = {m.colour: m for m in picture.of_layer("face") if isinstance(m, Fill)}
    for layer in ("glue face", "sand"):
        middles = [tuple(sum(c) / len(m.points) for c in zip(*m.points, strict=True)) for m in picture.of_layer(layer)]
        hit = {colour for middle in middles for colour, face in faces.items() if holds(face, middle)}
        assert len(middles) > 20
        assert len(hit) == 1, layer


def test_glue_is_shown_on_a_narrow_edge_too(bench):
    """Each ring is white in the middle, so that it is no dot of a leader, and lies wholly on the edge."""
    board = bench.piece("board", block((0, 0, 0), (60, 20, 300)))
    ring = ((60, 0, 0), (60, 20, 0), (60, 20, 300), (60, 0, 300))
    shown = [Shown(board, "worked")]
    picture = picture_of(bench, bench.event("glue up", "right", shown, [Cue("glue face", ring, "board")]))
    marks = [m for m in picture.of_layer("glue face") if isinstance(m, Stroke)]
    around, middles = marks[: len(marks) // 2], marks[len(marks) // 2 :]
    assert len(around) > 5
    assert [m.points for m in around] == [m.points for m in middles]
    assert {m.pen.colour for m in middles} == {PAPER}
    assert all(m.pen.width < around[0].pen.width for m in middles)


def test_ticks_lie_on_a_flat_that_passes_into_roundings_and_not_on_what_lies_deeper(bench):
    ends = [prism(circle((x, 30), 30), FACE_FRAMES["front"], -60, 0) for x in (0.0, 120.0)]
    slab = joined([block((0, 0, 0), (120, 60, 60)), *ends]).minus(block((50, -1, 20), (70, 61, 61)))
    cue = Cue("sand", ((20, 30, 60),), "slab", "top")
    event = bench.event("sand flush", "top", [Shown(bench.piece("slab", slab), "worked")], [cue])
    picture = picture_of(bench, event, scale=0.4)
    ticks = [m.points for m in picture.of_layer("sand")]
    # A level face is seen at 1/sqrt(3) of its area in an isometric view (descriptive geometry); the flat ends at 120 mm.
    around = MultiPoint([p for points in ticks for p in points]).convex_hull.area
    assert len(ticks) > 10
    assert around < 140 * 60 * 0.4**2 / 3**0.5


def test_arrows_lie_over_leaders_and_under_names(bench):
    boards = [bench.piece(f"board {k}", block((0, 30 * k, 0), (200, 30 * k + 25, 20))) for k in range(4)]
    cues = [Cue("clamp", ((100.0, -40.0, 10.0), (100.0, 0.0, 10.0))), Cue("push", ((300.0, 0, 10), (200.0, 0, 10)))]
    picture = picture_of(bench, bench.event("glue up", "front", [Shown(b, "worked") for b in boards], cues))
    layers = [mark.layer for mark in picture.marks]
    for sign in ("clamp", "push"):
        assert layers.index(sign) > max(k for k, layer in enumerate(layers) if layer in ("leader", "leader bed"))
        assert layers.index(sign) < layers.index("name")


@pytest.mark.parametrize(("apart", "least", "most"), [(12.0, 0.5, 1.2), (100.0, 1.9, 2.1)])
def test_crosses_on_holes_that_lie_close_do_not_run_into_each_other(bench, apart, least, most):
    sheet = bench.piece("sheet", block((0, 0, 0), (600, 300, 10)))
    spots = [(60 + apart * k, 60.0) for k in range(4)]
    cues = [Cue("drill axis", ((u, v, 28.0), (u, v, 4.0)), "sheet") for u, v in spots]
    picture = picture_of(bench, bench.event("stick", "top", [Shown(sheet, "worked")], cues))
    crosses = [LineString(m.points) for m in picture.of_layer("drill axis") if not m.pen.dashes]
    assert len(crosses) == 8
    # An arm along one of the world's axes is drawn 0.8165 of its length in an isometric view (descriptive geometry).
    assert all(least < cross.length / 2 / math.sqrt(2 / 3) < most for cross in crosses)
    for k, one in enumerate(crosses):
        assert sum(one.intersects(other) for other in crosses[k + 1 :]) == (1 - k % 2)
    axes = [LineString(m.points) for m in picture.of_layer("drill axis") if m.pen.dashes]
    first, second = sorted(axis.interpolate(0.5, normalized=True).x for axis in axes)[:2]
    room = (second - first) / math.cos(math.radians(30))
    scale = room / (apart * math.sqrt(2 / 3))
    past = min(3.0, max(1.0, 0.6 * room))
    assert all(a.length == pytest.approx(24 * scale * math.sqrt(2 / 3) + 2 * past, rel=0.02) for a in axes)


def test_a_line_to_cut_ends_where_the_wood_ends_from_which_the_rest_is_pulled_away(bench):
    kept = bench.piece("kept", block((0, 0, 0), (100, 100, 20)))
    off = bench.piece("off", block((103, 0, 0), (200, 100, 20)))
    line = Cue("cut line", ((101.0, -60.0, 20.0), (101.0, 160.0, 20.0)), "kept")
    shown = [Shown(kept, "new"), Shown(off, "new", (60.0, 0.0, 0.0))]
    picture = picture_of(bench, bench.event("saw", "top", shown, [line]))
    (cut, _) = [LineString(m.points) for m in picture.of_layer("cut line")]
    wood = MultiPoint([p for m in picture.of_layer("face") for r in m.rings for p in r]).convex_hull
    # As long as the wood and a little beyond both ends, of 220 mm that were written.
    assert cut.length == pytest.approx(100 * math.sqrt(2 / 3) * scale_in(bench, shown, line), abs=4.5)
    assert wood.buffer(2.0).contains(cut)


def scale_in(bench, shown, line):
    scale = step_scale(bench.timeline(), bench.event("saw", "top", shown, [line]), WIDE, HIGH)
    assert scale is not None
    return scale
