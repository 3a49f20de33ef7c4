"""Small things let into a face are known, so that no dot of the face's name lies on them; strips are part of it."""

import math

import pytest
from shapely.geometry import LineString, Point, Polygon

from planbook.drawing.inlaid import inlaid
from planbook.drawing.look import look
from planbook.drawing.paper import Paper
from planbook.drawing.scene import step_picture
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.solids.visible import orthographic
from planbook.workshop import At, Cue, Member, Piece, Shown

from .conftest import PLACE

BOARD = block((0, 0, 0), (200, 80, 20))


def with_inlay(solid, name="board"):
    members = [
        Member(wood, wood, (1.0, 0.0, 0.0), each, each.bounds)
        for wood, each in (("white oak", BOARD.minus(solid)), ("black walnut", solid))
    ]
    return Piece(name, BOARD, tuple(members), At(1, 1, PLACE))


def plug(x, y, radius=5.0):
    return cylinder(FACE_FRAMES["top"], (x, y), radius, 10, 20)


def seen_from_above(solid, scale=0.5):
    return inlaid(look(((with_inlay(solid), (0.0, 0.0, 0.0)),), orthographic("top")), Paper(scale, 0.0, 0.0))


def test_a_plug_is_told_by_its_outline_on_paper():
    around, inner = seen_from_above(plug(60, 40))
    assert Polygon(around).area == pytest.approx(math.pi * 2.5**2, rel=0.02)
    assert Polygon(inner).area == pytest.approx(math.pi * 1.25**2, rel=0.02)
    assert around[0] == around[-1]


@pytest.mark.parametrize("solid", [block((50, 0, 0), (60, 80, 20)), plug(60, 40, 30.0), plug(60, 5, 5.0)])
def test_a_strip_and_what_is_large_or_meets_the_edge_is_part_of_the_face(solid):
    assert seen_from_above(solid) == ()


@pytest.mark.parametrize("x", [14.0, 18.0, 24.0])
def test_no_dot_lies_on_a_plug(bench, x):
    picture = step_picture(
        bench.timeline(), bench.event("finish", "top", [Shown(with_inlay(plug(x, 12)), "worked")]), 98.0, 64.0
    )
    ((_, dot),) = bench.leaders(picture)
    plugs = [Polygon(m.rings[0]) for m in picture.of_layer("face") if 0 < Polygon(m.rings[0]).area < 20]
    assert plugs
    assert not any(each.contains(Point(dot)) for each in plugs)


@pytest.mark.parametrize("x", [40.0, 60.0, 66.0, 72.0, 80.0])
def test_no_tick_of_sanding_lies_on_a_plug(bench, x):
    event = bench.event(
        "sand face",
        "top",
        [Shown(with_inlay(plug(x, 40)), "worked")],
        [Cue("sand", (BOARD.bounds[1],), "board", "top")],
    )
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    plugs = [Polygon(m.rings[0]) for m in picture.of_layer("face") if 0 < Polygon(m.rings[0]).area < 20]
    ticks = [LineString(m.points) for m in picture.of_layer("sand")]
    assert plugs
    assert len(ticks) > 20
    assert min(tick.distance(each) for tick in ticks for each in plugs) > 0.4
