"""What a cut stops before is measured on the wood beside its end: as long as it says, clear of the cut and other cuts."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, Polygon

from planbook.drawing.beside_stop import beside_stop, stops_of
from planbook.drawing.look import flat
from planbook.drawing.marks import Fill, Words
from planbook.drawing.paper import Paper
from planbook.drawing.scene import step_picture
from planbook.drawing.stage import stages
from planbook.solids.solid import block
from planbook.units.printing import MM_TENTH
from planbook.workshop import Cue, Shown

FRONT = (0.0, -1.0, 0.0)
HALF = 3.4
"""Half the width of a number of four characters, mm."""
PAPER = Paper(0.15, 0.0, 0.0)


def grooved(bench, *stops, wide=18.0, apart=120.0):
    """A board with grooves from its back in its right face, that stop so far before its front."""
    solid, cues = block((0, 0, 0), (20, 190, 480)), []
    for k, stop in enumerate(stops):
        low, high = 150 + apart * k, 150 + apart * k + wide
        solid = solid.minus(block((13, stop, low), (21, 191, high)))
        ring = [(20.0, 190.0, low), (20.0, stop, low), (20.0, stop, high), (20.0, 190.0, high), (20.0, 190.0, low)]
        cues.append(Cue("cut line", tuple(ring), "board"))
    first, *more = [(("face", "right"), ("stop before the front", stop)) for stop in stops]
    event = bench.event("dado", "right", [Shown(bench.piece("board", solid), "worked")], cues)
    return replace(event, settings=(*first, ("further", tuple(more))))


def staged(bench, *stops, **more):
    (stage,) = stages(grooved(bench, *stops, **more))
    return stage


@pytest.mark.parametrize("stop", [25.0, 40.0, 70.0])
def test_the_line_runs_from_the_edge_to_the_end_of_the_cut(bench, stop):
    stage = staged(bench, stop)
    (fence,) = stops_of(stage, 0, FRONT, stop)
    lines = beside_stop(fence, stage, PAPER, HALF)
    assert lines
    # The axes are shortened in an isometric view (ISO 5456-3).
    assert {round(math.dist(*line.tips), 3) for line in lines} == {round(stop * 0.15 * math.sqrt(2 / 3), 3)}


def test_a_cut_that_ends_elsewhere_has_no_line(bench):
    assert stops_of(staged(bench, 40.0), 0, FRONT, 45.0) == []
    assert stops_of(staged(bench, 40.0), 0, (0.0, 1.0, 0.0), 40.0) == []


@pytest.mark.parametrize("apart", [60.0, 90.0, 140.0])
def test_neither_line_nor_number_lies_over_a_cut_or_beyond_the_wood(bench, apart):
    stage = staged(bench, 40.0, 60.0, apart=apart)
    view = stage.look.view
    face = Polygon([PAPER.put(flat(view, (20.0, y, z))) for y, z in ((0, 0), (190, 0), (190, 480), (0, 480))])
    cuts = [Polygon([PAPER.put(flat(view, p)) for p in cue.points]) for cue in stage.show.cues]
    lines = [
        line
        for stop in (40.0, 60.0)
        for f in stops_of(stage, 0, FRONT, stop)
        for line in beside_stop(f, stage, PAPER, HALF)
    ]
    assert lines
    for line in lines:
        x, y = line.text
        words = LineString([(x + s * HALF * line.along[0], y + s * HALF * line.along[1]) for s in (-1, 1)]).buffer(1.0)
        assert face.contains(words)
        assert not any(cut.intersects(words) or cut.intersects(LineString(line.tips)) for cut in cuts)


def numbers(bench, event):
    picture = step_picture(bench.timeline(), event, 98.0, 64.0, lengths=MM_TENTH)
    beds = [Polygon(m.rings[0]) for m in picture.of_layer("distance bed") if isinstance(m, Fill)]
    told = [m.text for m in picture.of_layer("distance") if isinstance(m, Words)]
    return dict(zip(told, beds, strict=True)), picture


def test_each_of_several_stops_is_told_nearest_to_its_own_cut(bench):
    event = grooved(bench, 40.0, 60.0, apart=150.0)
    found, picture = numbers(bench, event)
    assert sorted(found) == ["40 mm", "60 mm"]
    rings = sorted((Polygon(m.points) for m in picture.of_layer("cut line")), key=lambda ring: -ring.centroid.y)
    low, high = rings[0], rings[-1]
    assert low.distance(found["40 mm"].centroid) < 8.0 < high.distance(found["40 mm"].centroid)
    assert high.distance(found["60 mm"].centroid) < 8.0 < low.distance(found["60 mm"].centroid)


def test_where_a_line_on_the_wood_were_too_short_one_stop_is_told_at_the_edge(bench):
    found, picture = numbers(bench, grooved(bench, 14.0))
    assert list(found) == ["14 mm"]
    (words,) = [m for m in picture.of_layer("distance") if isinstance(m, Words)]
    faces = [Polygon(m.rings[0]) for m in picture.of_layer("face") if isinstance(m, Fill)]
    assert not any(face.contains(Point(words.at)) for face in faces)
