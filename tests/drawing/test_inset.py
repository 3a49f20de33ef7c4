"""Details enlarged: what is smaller than 3 mm on paper stands beside the picture once more, larger, and free of all else."""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon, box

from planbook.drawing.detail import details_of
from planbook.drawing.inset import AIR, CLEAR
from planbook.drawing.inset_room import Bare, placed
from planbook.drawing.layouts import laid_out, sheet_of
from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.paper import Paper
from planbook.drawing.scene import step_picture, step_scale
from planbook.drawing.stage import stages
from planbook.drawing.steps import drawn_event
from planbook.model import Node, Stencil
from planbook.solids import FACE_FRAMES, Area, Path
from planbook.solids.solid import block, cylinder
from planbook.text import Place
from planbook.units.printing import MM_TENTH
from planbook.workshop import At, Cue, Lost, Shown, Stuck


def bored(bench, diameter=5.0, side=400.0):
    board = block((0, 0, 0), (side, side / 2, 20)).minus(cylinder(FACE_FRAMES["top"], (60, 60), diameter / 2, -1, 21))
    cue = Cue("drill axis", ((60.0, 60.0, 38.0), (60.0, 60.0, 14.0)), "board")
    event = bench.event("bore", "top", [Shown(bench.piece("board", board), "worked")], [cue])
    return replace(event, settings=(("diameter", diameter),))


def inset_of(picture):
    """The middle, the radius and the times of the inset of a picture."""
    (disc,) = [m for m in picture.of_layer("inset") if isinstance(m, Fill)]
    ring = Polygon(disc.rings[0])
    (scale,) = picture.of_layer("inset scale")
    return ring.centroid, math.sqrt(ring.area / math.pi), int(scale.text.split(" : ")[0])


def test_a_small_hole_is_drawn_so_many_times_larger_as_it_says(bench):
    picture = step_picture(bench.timeline(), bored(bench), 98.0, 64.0)
    middle, radius, times = inset_of(picture)
    (place,) = picture.of_layer("inset place")
    small = Polygon(place.points)
    assert math.sqrt(small.area / math.pi) * times == pytest.approx(radius, rel=0.01)
    start = picture.marks.index(picture.of_layer("inset")[0])
    lines = [m for m in picture.marks[start:] if isinstance(m, Stroke) and m.layer in ("outline", "crease")]
    across = [p[0] for m in lines for p in m.points if middle.distance(Point(p)) < 0.6 * radius]
    # In a parallel projection a circle is an ellipse whose long axis is the true diameter (descriptive geometry).
    scale = step_scale(bench.timeline(), bored(bench), 98.0, 64.0)
    assert max(across) - min(across) == pytest.approx(5.0 * scale * times, rel=0.03)


def lines_near(picture):
    """The lines of the wood in the inset of a picture, and its disc."""
    middle, radius, _ = inset_of(picture)
    start = picture.marks.index(picture.of_layer("inset")[0])
    lines = [LineString(m.points) for m in picture.marks[start:] if isinstance(m, Stroke) and m.layer == "crease"]
    return lines, middle.buffer(radius)


@pytest.mark.parametrize(("far", "near"), [(18.0, True), (22.0, True), (60.0, False)])
def test_an_enlarged_hole_is_shown_with_the_edge_it_is_near(bench, far, near):
    whole = block((0, 0, 0), (400, 200, 20))
    board = bench.piece("board", whole.minus(cylinder(FACE_FRAMES["top"], (150, far), 2.5, -1, 21)))
    cue = Cue("drill axis", ((150.0, far, 38.0), (150.0, far, 14.0)), "board")
    event = replace(bench.event("bore", "top", [Shown(board, "worked")], [cue]), settings=(("diameter", 5.0),))
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    lines, disc = lines_near(picture)
    # The front edge of the board runs to the right, at 30 degrees to the paper (ISO 5456-3).
    straight = [line for line in lines if line.length > 0.8 * math.sqrt(disc.area / math.pi)]
    assert bool(straight) is near
    axes = [m for m in picture.of_layer("drill axis") if disc.contains(LineString(m.points).centroid)]
    assert axes, "the axis is drawn larger too"


def test_a_sunk_hole_is_as_large_as_its_mouth(bench):
    """A hole of 3 mm at the bottom of one of 40: what is seen is large enough on paper, and is not enlarged."""
    top = FACE_FRAMES["top"]
    solid = block((0, 0, 0), (400, 200, 20)).minus(
        cylinder(top, (150, 100), 20, 10, 21), cylinder(top, (150, 100), 1.5, -1, 21)
    )
    cue = Cue("drill axis", ((150.0, 100.0, 38.0), (150.0, 100.0, 14.0)), "board")
    event = bench.event("fit hardware", "top", [Shown(bench.piece("board", solid), "worked")], [cue])
    picture = step_picture(bench.timeline(), replace(event, settings=(("diameter", 3.0),)), 98.0, 64.0)
    assert not picture.of_layer("inset")


def papered(bench, lines):
    event = bored(bench)
    (shown,) = event.show.pieces
    place = Place("design.toml")
    stencil = Stencil("eye", "", 1, "top", "lower left", (), (), (), "", place)
    face = Area.of([(0, 0), (400, 0), (400, 200), (0, 200)])
    stuck = Stuck(stencil, FACE_FRAMES["top"].at((0, 0, 20)), lines, {}, {}, face, "board", At(2, 1, place))
    operation = replace(event.operation, fields=Node({"stencil": None}, place))
    covered = replace(shown, piece=replace(shown.piece, stuck=(stuck,)))
    return replace(event, operation=operation, show=replace(event.show, pieces=(covered,)))


def test_an_inset_shows_the_paper_that_is_stuck_on(bench):
    event = papered(bench, {})
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    middle, radius, times = inset_of(picture)
    _, large = picture.of_layer("sheet")
    paper = sum(Polygon(ring).area if n == 0 else -Polygon(ring).area for n, ring in enumerate(large.rings))
    # All of the disc but for the hole, an ellipse that an isometric view makes of a circle: 1 to the root of 3.
    hole = math.pi * (2.5 * times * step_scale(bench.timeline(), event, 98.0, 64.0)) ** 2 / math.sqrt(3)
    assert paper == pytest.approx(math.pi * radius**2 - hole, rel=0.02)
    assert all(middle.distance(Point(p)) < radius + 0.1 for ring in large.rings for p in ring)


def test_an_inset_shows_where_the_lines_of_the_stencil_are(bench):
    event = papered(bench, {"slot": Path(((0.0, 64.0), (400.0, 64.0))), "far": Path(((0.0, 150.0), (400.0, 150.0)))})
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    middle, radius, times = inset_of(picture)
    near = [m for m in picture.of_layer("stencil line") if middle.distance(Point(m.points[0])) < radius + 0.1]
    (line,) = (LineString(m.points) for m in near)
    # Two axes are drawn at 120 degrees and sqrt(2/3) of their length in an isometric view (ISO 5456-3).
    off = 4.0 * math.sqrt(2 / 3) * math.sin(math.radians(120)) * times
    off *= step_scale(bench.timeline(), event, 98.0, 64.0)
    assert line.distance(middle) == pytest.approx(off, rel=0.02)
    assert line.length == pytest.approx(2 * math.sqrt(radius**2 - off**2), rel=0.02)


def test_a_hole_large_enough_on_paper_is_not_enlarged(bench):
    picture = step_picture(bench.timeline(), bored(bench, diameter=30.0), 98.0, 64.0)
    assert not picture.of_layer("inset")


@pytest.mark.parametrize("side", [200.0, 400.0, 900.0])
@pytest.mark.parametrize("width", [98.0, 60.0])
def test_an_inset_covers_neither_names_nor_the_drawing(bench, side, width):
    picture = step_picture(bench.timeline(), bored(bench, side=side), width, 64.0)
    middle, radius, _ = inset_of(picture)
    disc = Point(middle).buffer(radius)
    assert box(0, 0, width, picture.height).buffer(0.1).contains(disc)
    assert all(not box(*b).intersects(disc) for b in bench.boxes(picture))
    assert all(not LineString(leader).intersects(disc) for leader in bench.leaders(picture))
    before = picture.marks[: picture.marks.index(picture.of_layer("inset")[0])]
    for mark in before:
        if isinstance(mark, Fill) and mark.layer == "face":
            for ring in mark.rings:
                assert not Polygon(ring).intersects(disc.buffer(-0.5))


def test_all_of_an_inset_lies_in_its_ring(bench):
    picture = step_picture(bench.timeline(), bored(bench), 98.0, 64.0)
    middle, radius, _ = inset_of(picture)
    start = picture.marks.index(picture.of_layer("inset")[0])
    for mark in picture.marks[start:]:
        rings = mark.rings if isinstance(mark, Fill) else (mark.points,) if isinstance(mark, Stroke) else ()
        assert all(middle.distance(Point(p)) <= radius + 0.1 for ring in rings for p in ring)


def test_a_small_piece_is_enlarged_with_the_place_it_goes_to(bench):
    board = bench.piece("board", block((0, 0, 0), (600, 300, 20)))
    peg = bench.piece("peg", block((100, 100, 20), (106, 106, 26)), "black walnut")
    event = bench.event("plug", "top", [Shown(board, "context"), Shown(peg, "worked", (0.0, 0.0, 10.0))])
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    assert inset_of(picture)[2] >= 4
    assert picture.missing == ()


def test_the_end_of_a_narrow_groove_is_enlarged(bench):
    board = block((0, 0, 0), (500, 250, 20)).minus(block((0, 100, 14), (500, 106, 21)))
    line = ((0.0, 100.0, 20.0), (500.0, 100.0, 20.0), (500.0, 106.0, 20.0), (0.0, 106.0, 20.0), (0.0, 100.0, 20.0))
    event = bench.event(
        "groove", "top", [Shown(bench.piece("board", board), "worked")], [Cue("cut line", line, "board")]
    )
    event = replace(event, settings=(("width", 6.0), ("depth", 6.0)))
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    assert picture.of_layer("inset")
    assert not step_picture(bench.timeline(), replace(event, settings=()), 98.0, 64.0).of_layer("inset")


def test_a_chamfer_is_enlarged_at_the_end_of_the_old_edge(bench):
    whole = bench.piece("board", block((0, 0, 0), (300, 90, 30)))
    bar = block((-1, -2, -2), (301, 2, 2)).turned((1.0, 0.0, 0.0), 45.0).moved((0.0, 0.0, 30.0))
    gone, rest = whole.solid.parted(bar)
    made = replace(whole, solid=rest)
    event = bench.event("chamfer", "top", [Shown(made, "worked")])
    event = replace(event, taken=(whole,), made=(made,), lost=(Lost("dust", gone, gone.volume),))

    def picture_of(*settings):
        return step_picture(bench.timeline(), drawn_event([replace(event, settings=settings)]), 98.0, 64.0)

    picture = picture_of(("width", 2 * math.sqrt(2)))
    middle, radius, _ = inset_of(picture)
    before = [LineString(m.points) for m in picture.of_layer("ghost")]
    assert before
    assert all(middle.distance(Point(end)) < radius + 0.05 for line in before for end in line.coords)
    # The corner where the old edge ended is the middle of what is shown: two of the three old edges meet there.
    assert sum(line.distance(Point(middle)) < 0.5 for line in before) >= 1
    assert not picture_of(("width", 30.0)).of_layer("inset")
    assert not picture_of(("width", 3.0), ("recorded", "too tight")).of_layer("inset")


@pytest.mark.parametrize("spot", [(60.0, 60.0), (340.0, 60.0), (340.0, 150.0), (200.0, 20.0), (60.0, 150.0)])
@pytest.mark.parametrize("height", [20.0, 90.0, 200.0])
def test_the_scale_of_an_inset_is_easily_read_and_clear_of_everything(bench, spot, height):
    side = FACE_FRAMES["top"]
    board = block((0, 0, 0), (400, 200, height)).minus(cylinder(side, spot, 2.5, -1, height + 1))
    cue = Cue("drill axis", ((*spot, height + 18.0), (*spot, height - 6.0)), "board")
    event = bench.event("bore", "top", [Shown(bench.piece("board", board), "worked")], [cue])
    picture = step_picture(bench.timeline(), replace(event, settings=(("diameter", 5.0),)), 98.0, 64.0)
    (scale,) = picture.of_layer("inset scale")
    # A point of desktop publishing is 1/72 in, 0.3528 mm.
    assert scale.size >= 6.5 * 0.3528
    assert scale.size >= min(m.size for m in picture.marks if isinstance(m, Words) and m.layer != "name") - 1e-9
    ((left, top, right, bottom),) = bench.boxes(picture, "inset scale")
    words = box(left, top, right, bottom)
    assert box(0, 0, picture.width, picture.height).contains(words)
    for mark in picture.marks:
        if isinstance(mark, Stroke) and len(mark.points) > 1:
            assert not words.intersects(LineString(mark.points)), mark.layer
        if isinstance(mark, Fill) and mark.layer == "face":
            assert not any(words.intersects(Polygon(r)) for r in mark.rings)


def grooved(bench, count, apart, deep, long):
    """Boards one above the other, each with a small groove at its right end that is cut in this step."""
    boards, cues = [], []
    for k in range(count):
        low, left = apart * k, long - 10
        cutter = block((left, -1, low - 1), (long + 1, 6, low + 21))
        board = bench.piece(f"long board {k}", block((0, 0, low), (long, deep, low + 20)).minus(cutter))
        ends = ((left, low), (left, low + 20), (long - 4, low + 20), (long - 4, low), (left, low))
        boards.append(Shown(board, "worked"))
        cues.append(Cue("cut line", tuple((x, 0.0, z) for x, z in ends), board.name))
    return replace(bench.event("groove", "front", boards, cues), settings=(("width", 6.0), ("depth", 6.0)))


@pytest.mark.parametrize(
    ("count", "apart", "deep", "long"),
    [(1, 60, 80, 300), (4, 60, 80, 300), (4, 90, 140, 300), (4, 90, 80, 400), (4, 160, 140, 600)],
)
def test_the_line_to_an_inset_crosses_no_leader_and_no_dot(bench, count, apart, deep, long):
    picture = step_picture(bench.timeline(), grooved(bench, count, apart, deep, long), 98.0, 64.0)
    assert picture.of_layer("inset")
    for tie in (LineString(m.points) for m in picture.of_layer("inset line")):
        assert not any(tie.crosses(LineString(leader)) for leader in bench.leaders(picture))
        assert all(tie.distance(Point(m.points[0])) > 0.6 for m in picture.of_layer("dot"))


def test_the_name_of_what_is_in_the_ring_ends_on_the_ring_without_a_dot(bench):
    board = bench.piece("board", block((0, 0, 0), (600, 300, 20)))
    peg = bench.piece("peg", block((100, 100, 20), (106, 106, 26)), "black walnut")
    event = bench.event("plug", "top", [Shown(board, "context"), Shown(peg, "worked", (0.0, 0.0, 10.0))])
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    (place,) = picture.of_layer("inset place")
    ring = Polygon(place.points)
    assert {m.text for m in picture.of_layer("name") if isinstance(m, Words)} == {"board", "peg"}
    assert len(picture.of_layer("dot")) == 1
    ends = [LineString(leader).distance(ring.exterior) for leader in bench.leaders(picture)]
    assert min(ends) < 0.05
    assert all(LineString(leader).intersection(ring.buffer(-0.1)).is_empty for leader in bench.leaders(picture))


@pytest.mark.parametrize("width", [98.0, 70.0])
@pytest.mark.parametrize("spot", [(60.0, 60.0), (390.0, 10.0), (200.0, 195.0)])
def test_the_line_from_an_inset_to_its_place_is_always_seen(bench, spot, width):
    board = block((0, 0, 0), (400, 200, 20)).minus(cylinder(FACE_FRAMES["top"], spot, 2.5, -1, 21))
    cue = Cue("drill axis", ((*spot, 38.0), (*spot, 14.0)), "board")
    event = bench.event("bore", "top", [Shown(bench.piece("board", board), "worked")], [cue])
    picture = step_picture(bench.timeline(), replace(event, settings=(("diameter", 5.0),)), width, 64.0)
    middle, radius, _ = inset_of(picture)
    (place,) = picture.of_layer("inset place")
    assert middle.buffer(radius).distance(Polygon(place.points)) > 1.9


def across(bench, name, x, start, end):
    """A board with a narrow groove from one of its edges to a stop, and the line of it."""
    board = block((x, 0, 0), (x + 100, 400, 6)).minus(block((x + start, 190, 3), (x + end, 200, 7)))
    ring = ((start, 190), (end, 190), (end, 200), (start, 200), (start, 190))
    cue = Cue("cut line", tuple((float(x + u), float(v), 6.0) for u, v in ring), name)
    return Shown(bench.piece(name, board), "worked"), cue


def test_a_groove_is_enlarged_amid_its_wood_rather_than_at_a_gap(bench):
    grooves = [across(bench, "open to the right", 0.0, 40.0, 100.0), across(bench, "stopped", 160.0, 0.0, 50.0)]
    shown, cues = zip(*grooves, strict=True)
    event = replace(bench.event("groove", "top", shown, cues), settings=(("width", 10.0), ("depth", 3.0)))
    (stage,) = stages(event)
    details = details_of(stage, event, 0.15)
    boards = box(0, 0, 100, 400), box(160, 0, 260, 400)
    assert details
    for each in details:
        assert any(board.contains(Point(each.spot[:2]).buffer(each.radius)) for board in boards)
    assert {round(each.spot[0]) for each in details} == {40, 210}, "both where the groove stops"


def test_spots_are_clear_of_a_drawing_however_they_are_asked_about(bench):
    """Against the distances that the geometry library measures, some spots asked about before all of them."""
    (stage,) = stages(bored(bench))
    paper = Paper(0.15, 20.0, 50.0)
    bare = Bare(stage, paper, 98.0, 64.0)
    faces = [Polygon(o, h) for o, h in paper.polygons(q for face in stage.look.faces for q in face.polygons)]
    for radius, spots in bare.spots.items():
        bare.clear(radius, np.arange(0, len(spots), 3))
        off = [min(face.distance(Point(spot)) for face in faces) > radius + AIR for spot in spots]
        assert bare.clear(radius, np.arange(len(spots))).tolist() == off
        assert set(off) == {False, True}


def test_an_inset_is_found_within_what_it_may_cost_and_not_for_less(bench):
    event = bored(bench)
    (stage,) = stages(event)
    (layout, *_), _ = laid_out([stage], sheet_of(98.0, 64.0, "colour", None))
    (detail,) = details_of(stage, event, layout.paper.scale)
    bare = Bare(stage, layout.paper, layout.width, 64.0)
    found = placed(detail, bare, layout, ())
    assert found is not None
    assert placed(detail, bare, layout, (), found.cost + 1e-6) == found
    less = placed(detail, bare, layout, (), found.cost)
    assert less is None or (less.cost < found.cost and less.radius < found.radius)
    assert placed(detail, bare, layout, (), CLEAR) is None, "so near it would touch the ring of its place"


def test_a_rounding_amid_its_wood_is_not_enlarged(bench):
    slab = bench.piece("slab", block((0, 0, 0), (400, 200, 120)))
    cue = Cue("cut line", ((180.0, 100.0, 120.0), (220.0, 100.0, 120.0)), "slab")
    for kind, settings in (("round over", (("radius", 4.0),)), ("dado", (("width", 4.0),))):
        event = replace(bench.event(kind, "top", [Shown(slab, "worked")], [cue]), settings=settings)
        assert bool(details_of(stages(event)[0], event, 0.15)) == (kind == "dado")


def test_a_hole_that_lies_alone_is_enlarged_rather_than_one_of_two(bench):
    spots = [(300.0, 30.0), (312.0, 30.0), (100.0, 120.0)]
    holes = [cylinder(FACE_FRAMES["top"], spot, 2.5, -1, 21) for spot in spots]
    board = bench.piece("board", block((0, 0, 0), (400, 200, 20)).minus(*holes))
    cues = [Cue("drill axis", ((*spot, 38.0), (*spot, 14.0)), "board") for spot in spots]
    event = replace(bench.event("bore", "top", [Shown(board, "worked")], cues), settings=(("diameter", 5.0),))
    (stage,) = stages(event)
    assert details_of(stage, event, 0.15)[0].spot[:2] == pytest.approx((100.0, 120.0))


@pytest.mark.parametrize(("wide", "enlarged"), [(8.0, True), (60.0, False)])
def test_a_small_spot_to_be_sanded_is_enlarged_with_its_ticks(bench, wide, enlarged):
    board = block((0, 0, 0), (400, 200, 20))
    ring = ((60, 60, 20), (60 + wide, 60, 20), (60 + wide, 60 + 2 * wide, 20), (60, 60 + 2 * wide, 20))
    cue = Cue("sand", tuple(tuple(map(float, point)) for point in ring), "board", "top")
    picture = step_picture(
        bench.timeline(),
        bench.event("sand flush", "top", [Shown(bench.piece("board", board), "worked")], [cue]),
        98,
        64,
    )
    assert bool(picture.of_layer("inset")) == enlarged
    if enlarged:
        middle, radius, _ = inset_of(picture)
        near = [m for m in picture.of_layer("sand") if middle.distance(LineString(m.points)) < radius]
        assert len(near) >= 6, "a tick and its bed, three times at least: fewer look like scratches"
        assert all(middle.distance(Point(p)) < radius for m in near for p in m.points)


def measured_hole(bench, sunk):
    """A hole bored 40 mm from two edges of a board, plain or with a cone at its mouth."""
    top = FACE_FRAMES["top"]
    solid = block((0, 0, 0), (400, 200, 20)).minus(cylinder(top, (40, 40), 2.5, -1, 21))
    if sunk:
        cones = [cylinder(top, (40, 40), 2.5 + k, 17.5 + k, 21) for k in (0.5, 1.0, 1.5, 2.0, 2.5)]
        solid = solid.minus(*cones)
    cue = Cue("drill axis", ((40.0, 40.0, 38.0), (40.0, 40.0, 14.0)), "board")
    event = bench.event("bore", "top", [Shown(bench.piece("board", solid), "worked")], [cue])
    return replace(event, settings=(("diameter", 5.0), ("at", ((40.0, 40.0),))))


@pytest.mark.parametrize("sunk", [False, True])
def test_a_hole_that_figures_measure_is_enlarged_if_it_is_more_than_plain(bench, sunk):
    told = step_picture(bench.timeline(), measured_hole(bench, sunk), 98.0, 64.0, lengths=MM_TENTH)
    assert bool(told.of_layer("inset")) is sunk
    assert told.of_layer("distance") or sunk, "an enlargement may take the room of a distance"
    assert sunk or step_picture(bench.timeline(), measured_hole(bench, sunk), 98.0, 64.0).of_layer("inset")
