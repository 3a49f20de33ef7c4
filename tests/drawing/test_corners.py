"""Names stand in the corners that a drawing leaves empty, where it becomes much larger by that, clear of all else."""

import itertools
from dataclasses import replace
from pathlib import Path

import pytest
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from planbook.drawing.layouts import sheet_of, with_names
from planbook.drawing.marks import Fill
from planbook.drawing.scene import step_picture
from planbook.drawing.stage import names, stages
from planbook.drawing.steps import drawn_step
from planbook.reader import read_design
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown
from planbook.workshop.run import build

SAMPLES = Path(__file__).parents[2] / "designs"


def boards(bench, *names, long=900.0, deep=420.0):
    """Boards in a row that together are as long as this, and lie flat."""
    wide = long / len(names)
    pieces = [
        bench.piece(name, block((wide * k, 0, 0), (wide * (k + 1) - 4, deep, 12))) for k, name in enumerate(names)
    ]
    return bench.event("dry fit", "top", [Shown(piece, "worked") for piece in pieces])


def drawing(picture):
    faces = [m for m in picture.marks if isinstance(m, Fill) and m.layer == "face"]
    return unary_union([Polygon(ring) for m in faces for ring in m.rings])


@pytest.mark.parametrize("names", [("long left blank",), ("long left blank", "long right blank")])
def test_a_wide_drawing_takes_the_width_of_the_paper_and_its_names_the_corners(bench, names):
    picture = step_picture(bench.timeline(), boards(bench, *names), 98.0, 64.0)
    wood = drawing(picture)
    left, _, right, _ = wood.bounds
    # Columns of such names would take 22 mm on each side on which there is one.
    assert right - left > 0.85 * 98
    placed = bench.boxes(picture)
    assert len(placed) >= len(names)
    for one in placed:
        assert box(*one).distance(wood) > 1.0
        assert box(0, 0, picture.width, picture.height).contains(box(*one))
    leaders = [LineString(leader) for leader in bench.leaders(picture)]
    assert len(leaders) == len(names)
    assert not any(one.crosses(two) for one, two in itertools.combinations(leaders, 2))
    assert not any(leader.intersects(box(*one)) for leader in leaders for one in placed)


def test_names_keep_clear_of_arrows(bench):
    event = boards(bench, "long left blank", "long right blank")
    tips = [(225.0, 0.0, 6.0), (675.0, 0.0, 6.0), (0.0, 210.0, 6.0)]
    ways = [(0.0, -60.0, 0.0), (0.0, -60.0, 0.0), (-60.0, 0.0, 0.0)]
    pushes = tuple(
        Cue("push", (tuple(map(sum, zip(tip, way, strict=True))), tip)) for tip, way in zip(tips, ways, strict=True)
    )
    picture = step_picture(bench.timeline(), replace(event, show=replace(event.show, cues=pushes)), 98.0, 64.0)
    arrows = [Polygon(m.rings[0]) for m in picture.of_layer("push") if isinstance(m, Fill)]
    assert len(arrows) == 3
    assert not any(arrow.intersects(box(*one)) for arrow in arrows for one in bench.boxes(picture))


def test_names_of_a_high_drawing_stay_beside_it(bench):
    post = bench.piece("long left post", block((0, 0, 0), (40, 40, 400)))
    picture = step_picture(bench.timeline(), bench.event("turn", "front", [Shown(post, "worked")]), 98.0, 64.0)
    left, _, right, _ = drawing(picture).bounds
    assert all(one[2] < left or one[0] > right for one in bench.boxes(picture))


def test_six_names_find_the_corners_of_a_slanting_row_of_boards():
    """Beside it in columns they would leave it less than three quarters of that scale."""
    timeline = build(read_design(SAMPLES / "dory-stool").design)
    step = timeline.design.steps[6]
    event = drawn_step(timeline, step)
    (stage,) = stages(event)
    assert len(names(stage)) == 6
    layout = with_names(stage, names(stage), sheet_of(98.0, 70.0, "colour", None))
    left, _, right, _ = stage.look.bounds
    assert layout is not None
    assert not layout.columns
    assert (right - left) * layout.paper.scale > 0.9 * layout.width
