"""Where a hole lies on its face is told from the nearest edges, true to size, clear of the drawing, or not at all."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, Polygon

from planbook.drawing.hole_fences import hole_fences
from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.scene import step_picture
from planbook.drawing.stage import stages
from planbook.model import Node
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.text import Place
from planbook.units.printing import MM_TENTH
from planbook.workshop import Cue, Shown
from planbook.workshop.spots import MEASURED_FROM

TOP = FACE_FRAMES["top"]
PLACE = Place("steps.md")


def bored(bench, *spots, wide=300.0, deep=160.0, kind="bore", at=True):
    """A board 20 mm thick with holes of 20 mm at these spots."""
    holes = [cylinder(TOP, spot, 10, -1, 21) for spot in spots]
    board = bench.piece("board", block((0, 0, 0), (wide, deep, 20)).minus(*holes))
    cues = [Cue("drill axis", ((x, y, 38.0), (x, y, 14.0)), "board") for x, y in spots]
    event = bench.event(kind, "top", [Shown(board, "worked")], cues)
    return replace(event, settings=(("diameter", 20.0), ("at", spots if at else ())))


def distances(event):
    (stage,) = stages(event)
    return sorted({(round(sum(map(abs, f.way[:1]))), round(f.far, 1)) for f in hole_fences(stage, event)})


def numbers(picture):
    return [m.text for m in picture.of_layer("distance") if isinstance(m, Words)]


def told(bench, event, height=64.0):
    return step_picture(bench.timeline(), event, 98.0, height, lengths=MM_TENTH)


def test_each_distance_is_from_the_nearest_edge_and_told_once(bench):
    event = bored(bench, (40, 50), (260, 50))  # both are 40 mm from an end, and 50 from the front
    assert distances(event) == [(0, 50), (1, 40)]
    assert sorted(numbers(told(bench, event))) == ["40 mm", "50 mm"]


@pytest.mark.parametrize(("spot", "far"), [((150, 50), [(0, 50)]), ((150, 80), []), ((40, 80), [(1, 40)])])
def test_the_middle_of_a_face_is_not_measured(bench, spot, far):
    assert distances(bored(bench, spot)) == far


def test_what_a_stencil_marks_is_not_measured(bench):
    event = bored(bench, (40, 50), at=False)
    assert not numbers(told(bench, event))
    assert not numbers(told(bench, bored(bench, (40, 50), kind="saw")))


def test_a_round_side_is_no_edge_to_measure_from(bench):
    disc = bench.piece("disc", cylinder(TOP, (100, 100), 100, 0, 20).minus(cylinder(TOP, (40, 60), 6, -1, 21)))
    cue = Cue("drill axis", ((40.0, 60.0, 38.0), (40.0, 60.0, 14.0)), "disc")
    event = replace(bench.event("bore", "top", [Shown(disc, "worked")], [cue]), settings=(("at", ((40, 60),)),))
    assert distances(event) == []


@pytest.mark.parametrize("spots", [((40, 50),), ((25, 30), (60, 30), (95, 30)), ((30, 30), (30, 130), (270, 80))])
def test_a_dimension_is_true_and_clear_of_the_wood_and_of_the_others(bench, spots):
    picture = told(bench, bored(bench, *spots), 70.0)
    words = [m for m in picture.of_layer("distance") if isinstance(m, Words)]
    assert words
    faces = [Polygon(m.rings[0]) for m in picture.marks if isinstance(m, Fill) and m.layer == "face"]
    xs = [x for face in faces for x, _ in face.exterior.coords]
    # 300 mm and 160 mm, each seen at 30 degrees and shortened by the square root of 2/3 (ISO 5456-3).
    paper = (max(xs) - min(xs)) / (460 * math.cos(math.radians(30)))
    strokes = [LineString(m.points) for m in picture.of_layer("distance") if isinstance(m, Stroke)]
    beds = [Polygon(m.rings[0]) for m in picture.of_layer("distance bed") if isinstance(m, Fill)]
    for word in words:
        line = min(strokes, key=lambda each: each.distance(Point(word.at)) + 9 * (each.length < 2))
        far = float(word.text.removesuffix(" mm"))
        heads = [Polygon(m.rings[0]) for m in picture.of_layer("distance") if isinstance(m, Fill)]
        tips = [Point(head.exterior.coords[0]) for head in heads if head.distance(line) < 0.1]
        assert max(a.distance(b) for a in tips for b in tips) == pytest.approx(far * paper, abs=0.15)
        assert all(face.distance(line) > 0.9 for face in faces)
    assert all(one.distance(two) > 0 for k, one in enumerate(beds) for two in beds[k + 1 :])


def test_room_for_a_distance_never_makes_the_drawing_much_smaller(bench):
    event = bored(bench, (40, 50), wide=900.0)
    wide = []
    for lengths in (None, MM_TENTH):
        picture = step_picture(bench.timeline(), event, 98.0, 64.0, lengths=lengths)
        xs = [x for m in picture.marks if isinstance(m, Fill) and m.layer == "face" for x, _ in m.rings[0]]
        wide.append(max(xs) - min(xs))
    assert wide[1] > 0.84 * wide[0]


def measured_from(event, origin):
    face = event.show.face
    return replace(event, settings=(*event.settings, ("face", face), ("measured from", MEASURED_FROM[origin])))


@pytest.mark.parametrize(
    ("origin", "far"),
    [
        ("lower left", [(0, 110), (1, 260)]),
        ("lower right", [(0, 110), (1, 40)]),
        ("lower middle", [(0, 110), (1, 110)]),
        ("middle", [(0, 30), (1, 110)]),
        ("world", [(0, 50), (1, 40)]),
    ],
)
def test_holes_are_measured_from_where_the_step_does(bench, origin, far):
    # The board is 300 mm by 160 mm: 260 and 110 from the lower left corner are 110 and 30 from the middle.
    assert distances(measured_from(bored(bench, (260, 110)), origin)) == far


def test_of_a_mirrored_piece_the_mirrored_edge_is_meant(bench):
    event = measured_from(bored(bench, (260, 110)), "lower left")
    mirror = Node({"across": Node("x", PLACE)}, PLACE)
    operation = replace(event.operation, fields=Node({"mirror": mirror}, PLACE))
    event = replace(event, operation=operation, settings=(*event.settings, ("mirrored on", "board")))
    assert distances(event) == [(0, 110), (1, 40)]


def test_a_distance_from_the_middle_has_a_centre_line(bench):
    picture = told(bench, measured_from(bored(bench, (260, 30), deep=60.0), "middle"))
    assert numbers(picture) == ["110 mm"]
    # ISO 128-2: a centre line is dashed and dotted.
    assert [m for m in picture.of_layer("distance") if isinstance(m, Stroke) and len(m.pen.dashes) == 4]


@pytest.mark.parametrize("size", [(98.0, 64.0), (98.0, 40.0), (70.0, 45.0), (60.0, 30.0)])
def test_no_hole_is_told_without_those_nearer_to_its_edge(bench, size):
    event = measured_from(bored(bench, (47, 150), (207, 150), (367, 150), (527, 150), wide=574.0), "lower left")
    picture = step_picture(bench.timeline(), event, *size, lengths=MM_TENTH)
    far = [text for text in numbers(picture) if text != "150 mm"]
    assert far == ["47 mm", "207 mm", "367 mm"][: len(far)]


def below(bench, event):
    return " ".join(m.text for m in told(bench, event).of_layer("also"))


def test_a_hole_without_a_figure_is_not_forgotten(bench):
    """More distances than a picture has room for: the reader is sent to the settings for the rest."""
    row = [(20.0 + 45 * n, 30.0 + 7 * n) for n in range(4)]
    assert len(numbers(told(bench, bored(bench, *row)))) < 8
    assert below(bench, bored(bench, *row)) == "Measures that are not drawn stand in the settings."
    assert below(bench, bored(bench, (40, 50))) == ""


def test_places_of_plugs_that_are_drawn_out_stand_in_the_settings(bench):
    plug = bench.piece("plug", cylinder(TOP, (40, 50), 10, 0, 20))
    board = bench.piece("board", block((0, 0, 0), (300, 160, 20)).minus(cylinder(TOP, (40, 50), 12, -1, 21)))
    event = bench.event("cut plugs", "top", [Shown(board, "new"), Shown(plug, "new", (0, 0, 30))])
    event = replace(event, settings=(("diameter", 20.0), ("at", ((40.0, 50.0),))))
    assert below(bench, event) == "Measures that are not drawn stand in the settings."
    assert below(bench, replace(event, settings=(("diameter", 20.0),))) == ""


def test_what_is_said_below_takes_no_more_room_than_there_is(bench):
    row = [(20.0 + 45 * n, 30.0 + 7 * n) for n in range(4)]
    picture = told(bench, bored(bench, *row), 40.0)
    assert picture.of_layer("also")
    assert picture.height <= 40.0
