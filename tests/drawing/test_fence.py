"""The fence told as a dimension: it measures what it says, on the piece, clear of the drawing and of names."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, Polygon, box

from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.scene import step_picture, step_scale
from planbook.drawing.steps import drawn_event
from planbook.solids import FACE_FRAMES
from planbook.solids.plane import circle
from planbook.solids.solid import block, prism
from planbook.units import LengthStyle
from planbook.units.printing import INCH_32, MM_TENTH
from planbook.workshop import Cue, Shown

ISOMETRIC = math.sqrt(2 / 3)
"""How much the axes are shortened in an isometric view (ISO 5456-3)."""


def ripped(bench, width=60.0):
    """A strip sawn off a board along its back."""
    strip = bench.piece("strip", block((0, 0, 0), (200, width, 20)))
    rest = bench.piece("rest", block((0, width + 3, 0), (200, 150, 20)))
    event = bench.event("rip", "top", [Shown(strip, "new"), Shown(rest, "new", (0.0, 25.0, 0.0))])
    return replace(event, settings=(("face", "back"), ("fence", width)))


def told(bench, event, style: LengthStyle = MM_TENTH, size=(98.0, 64.0)):
    return step_picture(bench.timeline(), event, *size, lengths=style)


def line_of(picture):
    """The dimension line, which is the longest of the three."""
    lines = [LineString(m.points) for m in picture.of_layer("distance") if isinstance(m, Stroke)]
    return lines[-1]


@pytest.mark.parametrize("width", [40.0, 60.0, 90.0])
def test_the_line_is_as_long_as_the_number_says(bench, width):
    event = ripped(bench, width)
    picture = told(bench, event)
    (number,) = [m.text for m in picture.of_layer("distance") if isinstance(m, Words)]
    assert number == f"{width:.0f} mm"
    faces = [m for m in picture.marks if isinstance(m, Fill) and m.layer == "face"]
    xs = [p[0] for m in faces for ring in m.rings for p in ring]
    # The drawing is 200 mm along x, and 175 mm along y with the gap: both shortened, both seen at 30 degrees.
    scale = (max(xs) - min(xs)) / ((200 + 175) * ISOMETRIC * math.cos(math.radians(30)))
    assert line_of(picture).length == pytest.approx(width * scale * ISOMETRIC, rel=0.02)


def test_inches_are_told_in_an_inch_edition_and_nothing_without_a_style(bench):
    event = ripped(bench, 63.5)
    assert [m.text for m in told(bench, event, INCH_32).of_layer("distance") if isinstance(m, Words)] == ["2 1/2 in"]
    assert not step_picture(bench.timeline(), event, 98.0, 64.0).of_layer("distance")


@pytest.mark.parametrize("width", [3.0, 40.0, 120.0])
@pytest.mark.parametrize("size", [(98.0, 64.0), (60.0, 64.0)])
def test_the_number_stands_clear(bench, width, size):
    picture = told(bench, ripped(bench, width), size=size)
    for mark in picture.of_layer("distance"):
        if isinstance(mark, Words):
            spot = Point(mark.at)
            faces = [Polygon(r) for m in picture.marks if isinstance(m, Fill) and m.layer == "face" for r in m.rings]
            assert all(not face.contains(spot) for face in faces)
            assert all(LineString(leader).distance(spot) > 0.3 for leader in bench.leaders(picture))
            name_boxes = [box(*corners) for corners in bench.boxes(picture)]
            assert all(each.distance(spot) > 0.3 for each in name_boxes)
    left, top, right, bottom = bench.extent(picture)
    assert min(left, top) >= -0.1
    assert right <= size[0] + 0.1
    assert bottom <= picture.height + 0.1


def test_a_round_piece_is_measured_on_the_wood(bench):
    layer = bench.piece("layer", prism(circle((0, 0), 60), FACE_FRAMES["front"], 0, 12))
    rest = bench.piece("rest", prism(circle((0, 0), 60), FACE_FRAMES["front"], -80, -2))
    event = bench.event("slice", "front", [Shown(layer, "new", (0.0, -60.0, 0.0)), Shown(rest, "new")])
    picture = told(bench, replace(event, settings=(("face", "front"), ("fence", 12.0))))
    first = next(m for m in picture.of_layer("distance") if isinstance(m, Stroke))
    faces = [Polygon(r) for m in picture.marks if isinstance(m, Fill) and m.layer == "face" for r in m.rings]
    # The extension line begins half a millimetre off the wood.
    assert min(face.distance(Point(first.points[0])) for face in faces) < 0.7


def test_a_groove_is_told_from_the_edge(bench):
    board = block((0, 0, 0), (200, 100, 20)).minus(block((-1, 30, 12), (201, 42, 21)))
    line = ((0.0, 30.0, 20.0), (200.0, 30.0, 20.0), (200.0, 42.0, 20.0), (0.0, 42.0, 20.0), (0.0, 30.0, 20.0))
    event = bench.event(
        "groove", "top", [Shown(bench.piece("board", board), "worked")], [Cue("cut line", line, "board")]
    )
    told_from = replace(event, settings=(("from", "front"), ("distance", 30.0), ("width", 12.0), ("depth", 8.0)))
    picture = told(bench, told_from)
    scale = step_scale(bench.timeline(), event, 98.0, 64.0)
    assert scale is not None
    assert [m.text for m in picture.of_layer("distance") if isinstance(m, Words)] == ["30 mm"]
    assert line_of(picture).length <= 30 * scale * ISOMETRIC * 1.01
    wrong = replace(event, settings=(("from", "front"), ("distance", 55.0)))
    assert not told(bench, wrong).of_layer("distance")


def test_a_step_with_several_settings_tells_each_once_where_there_is_room(bench):
    def strip(name, low, high, aside):
        shown = Shown(bench.piece(name, block((0, low, 0), (200, high, 20))), "new", (0.0, aside, 0.0))
        event = bench.event("rip", "top", [shown])
        return replace(event, settings=(("face", "back"), ("fence", high - low)), made=(shown.piece,))

    one, two, again = strip("wide", 0.0, 80.0, 0.0), strip("slim", 83.0, 123.0, 30.0), strip("last", 126.0, 166.0, 60.0)
    picture = told(bench, drawn_event([one, two, again]))
    numbers = [m.text for m in picture.of_layer("distance") if isinstance(m, Words)]
    assert numbers == ["80 mm", "40 mm"]
    marks = [m for m in picture.of_layer("distance") if isinstance(m, Stroke)]
    first, second = LineString(marks[2].points), LineString(marks[5].points)
    assert first.length == pytest.approx(2 * second.length, rel=0.01)
    assert first.distance(second) > 0.5
    paper = box(0.0, 0.0, picture.width, picture.height)
    assert all(paper.covers(LineString(m.points)) for m in marks)


def test_what_is_no_length_or_fits_no_piece_tells_nothing(bench):
    event = ripped(bench)
    for settings in (
        (("fence", 60.0),),
        (("face", "back"), ("fence", "wide")),
        (("face", "back"), ("fence", 61.0)),
        (),
    ):
        assert not told(bench, replace(event, settings=settings)).of_layer("distance")


def test_a_clamp_is_a_block_with_a_wedge_behind_it(bench):
    board = bench.piece("board", block((0, 0, 0), (80, 80, 80)))
    cue = Cue("clamp", ((40.0, -40.0, 40.0), (40.0, 0.0, 40.0)), "board")
    picture = told(bench, bench.event("glue", "front", [Shown(board, "worked")], [cue]))
    wedge, block_of = (Polygon(m.rings[0]) for m in picture.of_layer("clamp") if isinstance(m, Fill))
    assert block_of.area == pytest.approx(4.0 * 0.9, rel=0.01)
    assert wedge.distance(block_of) < 0.01
    assert wedge.intersection(block_of).area < 0.01
    assert picture.missing == ()
    assert "where the clamps press" in picture.alt


def test_a_distance_leaves_the_drawing_its_room(bench):
    """The dimension lies in a corner that the drawing leaves free, and takes room on that side alone."""
    event = ripped(bench)
    with_it = step_scale(bench.timeline(), event, 98.0, 64.0, told=True)
    without = step_scale(bench.timeline(), event, 98.0, 64.0)
    assert with_it is not None
    assert without is not None
    assert 0.85 * without < with_it <= without


def test_the_number_is_told_beside_leaders_on_both_sides(bench):
    """Three boards in a row with names on both sides: the edges that leaders pass are not the ones that are taken."""
    boards = [block((0, 110 * k, 0), (300, 110 * k + 100, 18)) for k in range(3)]
    names = ("long strip", "side strip", "rest of the sheet")
    shown = [Shown(bench.piece(name, each), "new") for name, each in zip(names, boards, strict=True)]
    event = replace(bench.event("rip", "top", shown), settings=(("face", "back"), ("fence", 100.0)))
    picture = told(bench, event)
    assert [m.text for m in picture.of_layer("distance") if isinstance(m, Words)] == ["100 mm"]
    numbers = [Point(m.at) for m in picture.of_layer("distance") if isinstance(m, Words)]
    assert all(LineString(leader).distance(numbers[0]) > 0.6 for leader in bench.leaders(picture))


def numbers(picture):
    return [m.text for m in picture.of_layer("distance") if isinstance(m, Words)]


def in_a_row(bench, *widths):
    """Strips ripped off one after the other, side by side."""
    shown, at = [], 0.0
    for n, width in enumerate(widths):
        strip = bench.piece(f"strip {n}", block((0, at, 0), (300, at + width, 18)))
        shown.append(Shown(strip, "new"))
        at += width
    first, *more = [(("face", "back"), ("fence", width)) for width in widths]
    return replace(bench.event("rip", "top", shown), settings=(*first, ("further", tuple(more))))


def test_all_settings_of_a_step_are_told_where_there_is_room(bench):
    picture = told(bench, in_a_row(bench, 120.0, 90.0))
    assert sorted(numbers(picture)) == ["120 mm", "90 mm"]


def test_one_piece_of_several_as_thick_shows_the_distance(bench):
    hidden = bench.piece("hidden", block((60, 40, 20), (120, 50, 60)))
    shown = bench.piece("shown", block((0, 0, 0), (200, 10, 90)))
    event = bench.event("slice", "front", [Shown(hidden, "new"), Shown(shown, "new", (0.0, -40.0, 0.0))])
    assert numbers(told(bench, replace(event, settings=(("face", "front"), ("fence", 10.0))))) == ["10 mm"]


def test_what_plugs_are_cut_of_tells_how_thick_it_was_sliced(bench):
    scrap = bench.piece("scrap", block((0, 0, 0), (120, 20, 130)))
    rest = bench.piece("rest", block((0, 21, 0), (120, 80, 130)))
    sliced = bench.event("slice", "front", [Shown(scrap, "new"), Shown(rest, "new")])
    sliced = replace(sliced, settings=(("face", "front"), ("fence", 20.0)))
    plugs = bench.event("cut plugs", "front", [Shown(scrap, "new")])
    event = drawn_event([sliced, plugs])
    assert event.operation.kind == "cut plugs"
    assert numbers(told(bench, event)) == ["20 mm"]


def stopped(bench, *stops):
    board = bench.piece("board", block((0, 0, 0), (20, 190, 400)))
    ways = [[(20, 190, 100 * k), (20, stop, 100 * k), (20, stop, 100 * k + 18)] for k, stop in enumerate(stops, 1)]
    cues = [Cue("cut line", tuple((float(x), float(y), float(z)) for x, y, z in way), "board") for way in ways]
    first, *more = [(("face", "right"), ("stop before the front", float(stop))) for stop in stops]
    event = bench.event("dado", "right", [Shown(board, "worked")], cues)
    return replace(event, settings=(*first, ("further", tuple(more))))


def test_where_a_cut_stops_is_told_of_several_beside_the_cuts(bench):
    assert numbers(told(bench, stopped(bench, 40))) == ["40 mm"]
    assert numbers(told(bench, stopped(bench, 40, 60))) == ["40 mm", "60 mm"]


def test_a_thickness_is_told_on_waste_where_the_new_piece_has_no_room(bench):
    """A plug amid the board it is cut from; a piece that stands free is measured itself."""
    board = block((0, 0, 0), (150, 20, 150))
    frame = FACE_FRAMES["front"]
    plug = prism(circle((75, 75), 6), frame, -20, 0)
    scrap = Shown(bench.piece("scrap", board.minus(plug)), "waste")

    def measured(aside):
        shown = [Shown(bench.piece("plug", plug), "new", aside), scrap]
        picture = told(
            bench, replace(bench.event("slice", "front", shown), settings=(("face", "front"), ("fence", 20.0)))
        )
        assert numbers(picture) == ["20 mm"]
        dark = [m for m in picture.of_layer("face") if isinstance(m, Fill)]
        small = min((Polygon(m.rings[0]) for m in dark), key=lambda each: each.area)
        return small.distance(line_of(picture))

    assert measured((0.0, -25.0, 0.0)) > 5.0
    assert measured((0.0, -25.0, -140.0)) < 5.0


@pytest.mark.parametrize("size", [(98.0, 64.0), (80.0, 50.0), (60.0, 64.0)])
def test_no_line_of_a_dimension_runs_through_a_name_or_another_number(bench, size):
    picture = told(bench, in_a_row(bench, 120.0, 90.0, 60.0), size=size)
    lines = [LineString(m.points) for m in picture.of_layer("distance") if isinstance(m, Stroke)]
    names = [box(*corners) for corners in bench.boxes(picture)]
    beds = [Polygon(m.rings[0]) for m in picture.of_layer("distance bed") if isinstance(m, Fill)]
    assert beds
    assert not any(line.intersects(each.buffer(-0.3)) for line in lines for each in (*names, *beds))
