"""Paper that is stuck on: its lines are seen as long as it is, each on the part that it lies on."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Polygon

from planbook.drawing.detail import details_of
from planbook.drawing.ink import LINE as INK
from planbook.drawing.scene import step_picture, step_scale
from planbook.drawing.stage import stages
from planbook.drawing.steps import drawn_event
from planbook.model import Stencil
from planbook.solids import FACE_FRAMES, Area, Path
from planbook.solids.plane import box, circle
from planbook.solids.solid import block, cylinder
from planbook.text import Place
from planbook.workshop import At, Cue, Shown, Stuck

TOP = FACE_FRAMES["top"]
PLACE = Place("design.toml")
LINES = {"left": Path(((60.0, 20.0), (60.0, 80.0))), "right": Path(((160.0, 20.0), (160.0, 80.0)))}


def stuck(lines=LINES, size=(200.0, 100.0)):
    """A sheet on the top of a board 10 mm thick."""
    stencil = Stencil("vane", "", 1, "top", "lower left", (), (), (), "", PLACE)
    face = Area.of([(0, 0), (size[0], 0), size, (0, size[1])])
    return Stuck(stencil, TOP.at((0, 0, 10)), lines, {}, {}, face, "board", At(2, 1, PLACE))


def halves(bench, apart=(0.0, 0.0, 0.0)):
    """A board sawn in two, with the sheet on both, the right half moved."""
    left = bench.piece("left half", block((0, 0, 0), (99, 100, 10)), stuck=(stuck(),))
    right = bench.piece("right half", block((101, 0, 0), (200, 100, 10)), stuck=(stuck(),))
    fields = {"stencil": None}
    return bench.event("saw", "top", [Shown(left, "new"), Shown(right, "new", apart)], (), fields)


def test_lines_are_on_the_paper_in_the_picture_itself(bench):
    picture = step_picture(bench.timeline(), halves(bench), 98.0, 64.0)
    assert len(picture.of_layer("stencil line")) == 2


def test_paper_is_seen_in_a_step_that_works_to_no_stencil(bench):
    board = bench.piece("board", block((0, 0, 0), (200, 100, 10)), stuck=(stuck(),))
    picture = step_picture(bench.timeline(), bench.event("crosscut", "top", [Shown(board, "worked")]), 98.0, 64.0)
    assert len(picture.of_layer("sheet")) == 1
    assert len(picture.of_layer("stencil line")) == 2


@pytest.mark.parametrize("ink", ["colour", "black"])
def test_what_is_only_stuck_on_has_dark_lines_and_none_to_cut(bench, ink):
    board = bench.piece("board", block((0, 0, 0), (200, 100, 10)), stuck=(stuck(),))
    cues = [Cue("printed line", tuple((x, y, 10.0) for x, y in line.points), "board") for line in LINES.values()]
    event = bench.event("stick", "top", [Shown(board, "worked")], cues, {"stencil": None})
    picture = step_picture(bench.timeline(), event, 98.0, 64.0, ink)
    assert not picture.of_layer("cut line")
    printed = picture.of_layer("printed line")
    assert [mark.pen.colour for mark in printed] == [INK] * 2
    assert "the lines of the stencil" in picture.alt


def test_no_paper_no_lines(bench):
    event = halves(bench)
    bare = tuple(replace(s, piece=replace(s.piece, stuck=())) for s in event.show.pieces)
    picture = step_picture(bench.timeline(), replace(event, show=replace(event.show, pieces=bare)), 98.0, 64.0)
    assert not picture.of_layer("stencil line")


def test_a_part_that_is_moved_takes_its_own_line_with_it_and_no_other(bench):
    """Moved 100 mm to the left, the line of the left half on the sheet of the right would lie amid the right half."""
    event = halves(bench, (-100.0, 150.0, 0.0))
    picture, scale = (draw(bench.timeline(), event, 98.0, 64.0) for draw in (step_picture, step_scale))
    (paper,) = picture.of_layer("sheet")
    centres = [Polygon(ring).centroid for ring in paper.rings]
    middles = [LineString(mark.points).centroid for mark in picture.of_layer("stencil line")]
    assert len(centres) == len(middles) == 2
    # Lines at 60 and 160 mm; the halves have their middles at 49.5 and 150.5. Isometric: sqrt(2/3) of a length.
    offs = sorted(min(middle.distance(centre) for centre in centres) / scale / math.sqrt(2 / 3) for middle in middles)
    assert offs == pytest.approx([9.5, 10.5], abs=0.05)


@pytest.mark.parametrize("line", [(150.0, 300.0), (700.0, 300.0)])
def test_of_two_holes_the_one_beside_a_line_is_enlarged(bench, line):
    """Two holes of 5 mm: where a blade goes in, it matters on which side of the line the hole is."""
    holes = [(150.0, 296.0), (700.0, 296.0)]
    solid = block((0, 0, 0), (900, 400, 10)).minus(*(cylinder(TOP, at, 2.5, -1, 11) for at in holes))
    lines = {"slot": Path(((line[0] - 40, line[1]), (line[0] + 40, line[1])))}
    board = bench.piece("board", solid, stuck=(stuck(lines, (900.0, 400.0)),))
    cues = [Cue("drill axis", ((*at, 28.0), (*at, 4.0)), "board") for at in holes]
    event = bench.event("bore", "top", [Shown(board, "worked")], cues, {"stencil": None})
    event = replace(event, settings=(("diameter", 5.0),))
    (stage,) = stages(event)
    found = details_of(stage, event, 0.1)
    assert [round(detail.spot[0]) for detail in found] == [line[0]]


def test_of_holes_beside_a_line_one_in_its_corner_is_enlarged(bench):
    """Four holes of 5 mm free the corners of a slot of 100 x 60 mm, 2 mm within it; a fifth begins a round opening."""
    corners = [(102.0, 102.0), (198.0, 102.0), (198.0, 158.0), (102.0, 158.0)]
    holes = [*corners, (700.0, 372.0)]
    solid = block((0, 0, 0), (900, 400, 10)).minus(*(cylinder(TOP, at, 2.5, -1, 11) for at in holes))
    lines = {"slot": box(100, 100, 200, 160), "round": circle((700, 350), 25)}
    board = bench.piece("board", solid, stuck=(stuck(lines, (900.0, 400.0)),))
    cues = [Cue("drill axis", ((*at, 28.0), (*at, 4.0)), "board") for at in holes]
    event = bench.event("bore", "top", [Shown(board, "worked")], cues, {"stencil": None})
    event = replace(event, settings=(("diameter", 5.0),))
    (stage,) = stages(event)
    found = [tuple(round(x) for x in detail.spot[:2]) for detail in details_of(stage, event, 0.1)]
    assert found
    assert set(found) <= {(round(x), round(y)) for x, y in corners}


def test_waste_is_hatched_over_its_paper(bench):
    """Under it, the hatching would be as pale as the squares."""
    waste = bench.piece("waste", block((0, 0, 0), (200, 100, 10)), stuck=(stuck(),))
    event = bench.event("saw", "top", [Shown(waste, "waste")], (), {"stencil": None})
    layers = [mark.layer for mark in step_picture(bench.timeline(), event, 98.0, 64.0, "black").marks]
    assert max(n for n, layer in enumerate(layers) if layer == "sheet") < layers.index("hatch")


def test_a_step_that_sticks_a_stencil_and_bores_on_it_shows_its_lines_dark(bench):
    """The picture is of the boring; what is printed is new all the same, as long as the paper is still there."""
    board = bench.piece("board", block((0, 0, 0), (200, 100, 10)), stuck=(stuck(),))
    cues = [Cue("printed line", tuple((x, y, 10.0) for x, y in line.points), "board") for line in LINES.values()]
    sticking = replace(bench.event("stick", "top", [Shown(board, "worked")], cues), made=(board,))
    for papers, count in ((board.stuck, 2), ((), 0)):
        bored = replace(board, stuck=papers)
        axis = Cue("drill axis", ((100.0, 50.0, 28.0), (100.0, 50.0, 4.0)), "board")
        boring = replace(bench.event("bore", "top", [Shown(bored, "worked")], [axis]), made=(bored,))
        event = drawn_event([sticking, boring])
        assert event is not None
        picture = step_picture(bench.timeline(), event, 98.0, 64.0)
        assert picture.of_layer("drill axis")
        assert len(picture.of_layer("printed line")) == count
