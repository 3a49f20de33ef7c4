"""Sizes that a step comes to are told: squared blanks, trimmed ends, rabbets, and holes for what is put into them."""

from dataclasses import replace
from pathlib import Path

import pytest
from shapely.geometry import LineString, Polygon

from planbook.drawing.fences import fences_of
from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.scene import step_picture
from planbook.drawing.stage import BORED, stages
from planbook.drawing.steps import step_pictures
from planbook.reader import read_design
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.units.printing import INCH_32, MM_TENTH
from planbook.workshop import Cue, Shown
from planbook.workshop.run import build
from planbook.workshop.spots import MEASURED_FROM

SAMPLES = Path(__file__).parents[2] / "designs"


def numbers(picture):
    return sorted(m.text for m in picture.of_layer("distance") if isinstance(m, Words))


def told(bench, event, style=MM_TENTH):
    return step_picture(bench.timeline(), event, 98.0, 64.0, lengths=style)


def test_a_squared_blank_shows_all_three_sizes(bench):
    blank = bench.piece("blank", block((0, 0, 0), (180, 76.2, 101.6)))
    event = bench.event("square", "front", [Shown(blank, "worked")])
    event = replace(event, settings=(("width", 180.0), ("depth", 76.2), ("height", 101.6)))
    assert numbers(told(bench, event)) == ["101.6 mm", "180 mm", "76.2 mm"]
    assert {"3 in", "4 in"} < set(numbers(told(bench, event, INCH_32)))


def test_a_trimmed_end_shows_what_the_piece_is_trimmed_to(bench):
    strip = bench.piece("strip", block((0, 0, 0), (150, 40, 20)))
    event = bench.event("trim", "right", [Shown(strip, "new")])
    taken = replace(event, settings=(("face", "right"), ("take off", 3.0)))
    assert not numbers(told(bench, taken))
    assert numbers(told(bench, replace(event, settings=(*taken.settings, ("to", 150.0))))) == ["150 mm"]


def notched(bench):
    """A board with a notch 20 mm wide and 30 mm deep in both corners of its front."""
    notches = [block((x, -1, -1), (x + 21, 30, 19)) for x in (-1, 280)]
    shelf = bench.piece("shelf", block((0, 0, 0), (300, 120, 18)).minus(*notches))
    rings = [((x, 0.0, 0.0), (x + 20, 0.0, 0.0), (x + 20, 0.0, 18.0), (x, 0.0, 18.0)) for x in (0.0, 280.0)]
    cues = [Cue("cut line", (*ring, ring[0]), "shelf") for ring in rings]
    event = bench.event("rabbet", "front", [Shown(shelf, "worked")], cues)
    return replace(event, settings=(("face", "front"), ("edges", ("left", "right")), ("width", 20.0), ("depth", 30.0)))


def test_the_step_of_a_rabbet_is_measured_beside_it(bench):
    event = notched(bench)
    assert {fence.far for fence in fences_of(stages(event)[0], event)} == {20.0, 30.0}
    picture = told(bench, event)
    assert "30 mm" in numbers(picture)
    wood = [Polygon(m.rings[0]) for m in picture.marks if isinstance(m, Fill) and m.layer == "face"]
    lines = [LineString(m.points) for m in picture.of_layer("distance") if isinstance(m, Stroke)]
    assert all(line.intersection(face).length < 0.1 for line in lines for face in wood)


def in_a_box(bench):
    """A hole 40 mm above the lower edge of a panel that stands amid a frame: no edge of it ends beside bare paper."""
    hole = cylinder(FACE_FRAMES["front"], (100.0, 40.0), 6, -20, 20)
    panel = bench.piece("panel", block((0, 0, 0), (200, 10, 150)).minus(hole))
    frame = block((-60, -12, -60), (260, 11, 210)).minus(block((0, -13, 0), (200, 12, 150)))
    knob = bench.piece("knob", block((97, -80, 37), (103, -60, 43)))
    shown = [Shown(panel, "worked"), Shown(knob, "worked"), Shown(bench.piece("frame", frame), "context")]
    cue = Cue("drill axis", ((100.0, -40.0, 40.0), (100.0, 0.0, 40.0), (100.0, 0.0, 40.0)), "panel")
    event = bench.event("plug", "front", shown, [cue])
    at = (("face", "front"), ("at", ((0.0, 40.0),)), ("measured from", MEASURED_FROM["lower middle"]))
    return replace(event, settings=((BORED, (at,)),))


def test_a_hole_that_a_plug_goes_into_is_measured_on_the_wood_where_there_is_no_room_outside(bench):
    event = in_a_box(bench)
    (stage,) = stages(event)
    assert [(fence.way, pytest.approx(fence.far)) for fence in fences_of(stage, event)] == [((0.0, 0.0, -1.0), 40.0)]
    assert numbers(told(bench, event)) == ["40 mm"]
    assert not numbers(told(bench, replace(event, settings=())))


def test_both_distances_of_a_pair_are_told_though_a_leader_crosses_one():
    timeline = build(read_design(SAMPLES / "tide-shelf").design)
    steps = {n: numbers(p) for n, p in step_pictures(timeline, 98.0, 64.0, lengths=MM_TENTH).items() if n in (2, 10)}
    assert steps == {2: ["34 mm", "39 mm", "40 mm", "440 mm"], 10: ["12 mm", "7 mm"]}


def test_a_bored_hole_says_where_it_is_measured_from():
    timeline = build(read_design(SAMPLES / "curlew-box").design)
    bored = [dict(e.settings) for e in timeline.events if e.operation.kind == "bore"]
    told_of = {(each.get("measured from"), each.get("at")) for each in bored}
    assert ("the middle of the lower edge", ((0.0, 13.5),)) in told_of
