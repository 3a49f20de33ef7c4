"""Dots, leaders and numbers keep off arrows and rings, where their pieces have another place for them."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, Polygon

from planbook.drawing.dodge import Signs, clear_of
from planbook.drawing.inset import circle
from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.names import Label, Layout, Wanted
from planbook.drawing.paper import Paper
from planbook.drawing.scene import step_picture
from planbook.drawing.words import DOT, disc
from planbook.solids.hatch import grounds
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown

NOTHING = grounds([])
FACE = ((((30.0, -40.0), (60.0, -40.0), (60.0, -10.0), (30.0, -10.0)), ()),)
"""On paper of scale 1 the face lies between x 30 and 60, y 10 and 40."""


def laid(side="left", faces=(FACE,), dot=(34.0, 25.0)) -> Layout:
    box = (5.0, 23.6, 20.0, 26.4) if side == "left" else (dot[0] - 1, dot[1] - 1.4, dot[0] + 1, dot[1] + 1.4)
    label = Label(Wanted("shelf", faces, (45.0, -25.0), 10.0), ("shelf",), side, box, dot)
    return Layout(Paper(1.0, 0.0, 0.0), 98.0, 64.0, 2.8, (label,))


def sign(x: float, y: float, radius: float = 2.0) -> Signs:
    ring = circle((x, y), radius)
    return Signs((ring,), (ring,))


@pytest.mark.parametrize(("x", "y"), [(34.0, 25.0), (35.0, 26.0), (31.0, 25.0), (26.0, 25.0)])
def test_a_dot_and_its_leader_keep_off_a_sign(x, y):
    layout = laid()
    (label,) = clear_of(layout, sign(x, y), NOTHING).labels
    ring = Polygon(circle((x, y), 2.0))
    assert abs(label.box[1] - layout.labels[0].box[1]) < 2.8
    assert LineString([label.start, label.dot]).distance(ring) > 0.4
    assert Point(label.dot).buffer(DOT).distance(ring) > 0.6
    assert Polygon([(30, 10), (60, 10), (60, 40), (30, 40)]).contains(Point(label.dot))
    assert math.dist(label.start, label.dot) < 1.5 * 13.3 + 2.4


def test_a_number_leaves_the_sign_with_its_whole_disc():
    (label,) = clear_of(laid("on", dot=(45.0, 25.0)), sign(45.0, 25.0), NOTHING).labels
    assert Point(label.dot).distance(Polygon(circle((45.0, 25.0), 2.0))) > 0.75 * 2.8
    left, top, right, low = label.box
    assert ((left + right) / 2, (top + low) / 2) == pytest.approx(label.dot)


def test_what_is_clear_stays_and_so_does_what_has_no_other_place():
    layout = laid()
    assert clear_of(layout, sign(50.0, 50.0), NOTHING) == layout
    assert clear_of(layout, Signs((), ()), NOTHING) == layout
    note = laid(faces=())
    assert clear_of(note, sign(34.0, 25.0), NOTHING).labels == note.labels
    everywhere = sign(45.0, 25.0, 40.0)
    assert clear_of(layout, everywhere, NOTHING).labels == layout.labels


def test_another_leader_is_not_crossed():
    one = laid().labels[0]
    two = Label(Wanted("rail", (), (32.0, -12.0)), ("rail",), "left", (5.0, 28.0, 20.0, 30.8), (32.0, 12.0))
    layout = Layout(Paper(1.0, 0.0, 0.0), 98.0, 64.0, 2.8, (one, two))
    moved, other = clear_of(layout, sign(34.0, 25.0), NOTHING).labels
    assert not LineString([moved.start, moved.dot]).crosses(LineString([other.start, other.dot]))


def test_in_a_picture_no_dot_lies_under_a_clamp(bench):
    """The clamp presses in the middle of the face where the leader would end."""
    boards = [
        Shown(bench.piece(f"board {k}", block((60 * k, 0, 0), (60 * k + 16, 150, 120))), "worked") for k in (0, 1)
    ]
    for height in range(10, 120, 10):
        for depth in (20, 50, 75, 100, 130):
            cue = Cue("clamp", ((96.0, float(depth), float(height)), (76.0, float(depth), float(height))), "board 1")
            picture = step_picture(bench.timeline(), bench.event("glue up", "front", boards, [cue]), 98.0, 64.0)
            heads = [Polygon(r) for m in picture.of_layer("clamp") if isinstance(m, Fill) for r in m.rings]
            dots = [Point(m.points[0]) for m in picture.of_layer("dot") if isinstance(m, Stroke)]
            assert len(dots) == 2
            assert all(head.distance(dot) > 0.4 for head in heads for dot in dots)


def test_a_leader_keeps_out_of_the_ring_of_an_enlargement(bench):
    for across in range(8, 200, 16):
        hole = ((float(across), 30.0, 38.0), (float(across), 30.0, 14.0))
        shelf = bench.piece("shelf", block((0, 0, 0), (200, 60, 20)))
        event = bench.event("bore", "top", [Shown(shelf, "worked")], [Cue("drill axis", hole, "shelf")])
        bored = replace(event, settings=(("diameter", 4.0),))
        picture = step_picture(bench.timeline(), bored, 98.0, 64.0)
        rings = [Polygon(m.points) for m in picture.of_layer("inset place") if isinstance(m, Stroke)]
        leaders = [LineString(leader) for leader in bench.leaders(picture)]
        assert rings
        assert [m.text for m in picture.of_layer("name") if isinstance(m, Words)] == ["shelf"]
        assert not any(ring.intersects(leader) for ring in rings for leader in leaders)


def test_a_name_is_moved_along_its_column_where_no_other_dot_is_clear():
    """A sign as wide as the leader is long stands before all of the face that is level with the name."""
    low = ((((30.0, -28.0), (60.0, -28.0), (60.0, -22.0), (30.0, -22.0)), ()),)
    layout = laid(faces=(low,))
    bar = ((24.0, 10.0), (26.0, 10.0), (26.0, 26.5), (24.0, 26.5))
    (label,) = clear_of(layout, Signs((bar,), (bar,)), NOTHING).labels
    assert label.box[1] > layout.labels[0].box[1]
    assert label.box[3] - label.box[1] == pytest.approx(2.8)
    assert LineString([label.start, label.dot]).distance(Polygon(bar)) > 0.6


def test_a_name_is_not_moved_onto_another(overlaps):
    low = ((((30.0, -28.0), (60.0, -28.0), (60.0, -22.0), (30.0, -22.0)), ()),)
    one = laid(faces=(low,)).labels[0]
    two = Label(Wanted("rail", (), (32.0, -34.0)), ("rail",), "left", (5.0, 28.0, 20.0, 30.8), (32.0, 34.0))
    bar = ((24.0, 10.0), (26.0, 10.0), (26.0, 26.5), (24.0, 26.5))
    layout = Layout(Paper(1.0, 0.0, 0.0), 98.0, 64.0, 2.8, (one, two))
    assert overlaps([label.box for label in clear_of(layout, Signs((bar,), (bar,)), NOTHING).labels]) == []


def test_leaders_give_way_to_a_dimension():
    line = ((26.0, 22.0), (26.0, 28.0))
    (label,) = clear_of(laid(), Signs((), (), (line,)), NOTHING).labels
    assert LineString([label.start, label.dot]).distance(LineString(line)) > 0.4


def test_a_dot_lies_on_no_thin_line_where_its_face_has_room_beside_it():
    layout = laid()
    cut = ((34.0, 10.0), (34.0, 40.0))
    (label,) = clear_of(layout, Signs((), (), (), (cut,)), NOTHING).labels
    assert LineString(cut).distance(Point(label.dot)) > 1.0
    everywhere = tuple(((x / 2, 10.0), (x / 2, 40.0)) for x in range(60, 121))
    assert clear_of(layout, Signs((), (), (), everywhere), NOTHING).labels == layout.labels


def test_a_name_is_moved_before_its_leader_crosses_the_tail_of_an_arrow():
    """The tail lies over all of the face that is level with the name; from a little lower it is passed by."""
    low = ((((30.0, -28.0), (60.0, -28.0), (60.0, -22.0), (30.0, -22.0)), ()),)
    tail = ((24.0, 10.0), (26.0, 10.0), (26.0, 26.5), (24.0, 26.5))
    far = circle((24.0, 5.0), 1.0)
    (label,) = clear_of(laid(faces=(low,)), Signs((tail,), (far,)), NOTHING).labels
    assert LineString([label.start, label.dot]).distance(Polygon(tail)) > 0.6


def test_a_leader_goes_past_a_number_and_not_under_it():
    number = Label(Wanted("3", (FACE,), (45.0, -25.0)), ("3",), "on", (26.0, 23.6, 28.0, 26.4), (27.0, 25.0))
    layout = laid()
    both = Layout(layout.paper, 98.0, 64.0, 2.8, (*layout.labels, number))
    moved, kept = clear_of(both, Signs((), ()), NOTHING).labels
    assert kept == number
    assert LineString([moved.start, moved.dot]).distance(Point(number.dot)) > disc(2.8)


def test_a_name_changes_its_column_where_all_of_its_side_is_taken():
    rail = Label(Wanted("rail", (), (59.0, -12.0)), ("rail",), "right", (66.0, 10.6, 78.0, 13.4), (59.0, 12.0))
    layout = laid()
    both = Layout(layout.paper, 98.0, 64.0, 2.8, (*layout.labels, rail))
    wall = ((24.0, 0.0), (26.0, 0.0), (26.0, 64.0), (24.0, 64.0))
    moved, kept = clear_of(both, Signs((wall,), (wall,)), NOTHING).labels
    assert (moved.side, kept) == ("right", rail)
    assert moved.box[0] == rail.box[0]
    assert moved.box[2] - moved.box[0] == pytest.approx(15.0)
    assert moved.box[1] > rail.box[3] or moved.box[3] < rail.box[1]
    leader = LineString([moved.start, moved.dot])
    assert leader.distance(Polygon(wall)) > 0.6
    assert not leader.crosses(LineString([rail.start, rail.dot]))


def test_a_leader_does_not_run_through_the_dot_of_another():
    rail = Label(Wanted("rail", (), (26.0, -25.0)), ("rail",), "left", (5.0, 12.0, 15.0, 14.8), (26.0, 25.2))
    layout = laid()
    both = Layout(layout.paper, 98.0, 64.0, 2.8, (*layout.labels, rail))
    moved, kept = clear_of(both, Signs((), ()), NOTHING).labels
    assert kept == rail
    assert LineString([moved.start, moved.dot]).distance(Point(rail.dot)) > 0.7


def test_a_name_leaves_its_column_where_its_leader_would_cross_another_piece():
    strip = ((((21.0, -63.0), (29.0, -63.0), (29.0, -1.0), (21.0, -1.0)), ()),)
    layout = laid()
    over = Polygon([(x, -y) for x, y in strip[0][0]])
    assert LineString([layout.labels[0].start, layout.labels[0].dot]).intersects(over)
    (label,) = clear_of(layout, Signs((), ()), grounds([strip, FACE])).labels
    assert label.loose
    assert not LineString([label.start, label.dot]).intersects(over)
    left, top, right, low = label.box
    name = Polygon([(left, top), (right, top), (right, low), (left, low)])
    assert name.disjoint(over)
    assert name.disjoint(Polygon([(x, -y) for x, y in FACE[0][0]]))
    (alone,) = clear_of(layout, Signs((), ()), grounds([FACE])).labels
    assert alone == layout.labels[0]
