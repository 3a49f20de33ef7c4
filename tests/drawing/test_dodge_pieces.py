"""Leaders are led past other pieces and their corners where they can be, and stay where they cannot."""

import pytest
from shapely.geometry import LineString, Point, Polygon, box

from planbook.drawing.dodge import Signs, clear_of
from planbook.drawing.ink import LEADER
from planbook.drawing.names import Label, Layout, Wanted
from planbook.drawing.paper import Paper
from planbook.drawing.scene import step_picture
from planbook.solids.hatch import grounds
from planbook.solids.solid import block
from planbook.workshop import Shown

NONE = Signs((), ())


def area(left, top, right, low):
    """A rectangle of the paper as what is seen of a piece in the view, where v points up and the scale is 2."""
    ring = ((left, low), (right, low), (right, top), (left, top))
    return (tuple((x / 2, -y / 2) for x, y in ring), ())


def laid(faces, dot=(32.0, 25.0), boxes=((5.0, 23.6, 20.0, 26.4),)):
    labels = [
        Label(Wanted(f"rail {k}", (faces,), (16.0, -12.5), 5.0), ("rail",), "left", b, dot) for k, b in enumerate(boxes)
    ]
    return Layout(Paper(2.0, 0.0, 0.0), 98.0, 64.0, 2.8, tuple(labels))


MINE = (area(30, 10, 60, 40),)
BEFORE = (area(22, 24, 29, 40),)


def test_a_leader_is_led_past_a_piece_that_ends_near_by():
    (label,) = clear_of(laid(MINE), NONE, grounds([MINE, BEFORE])).labels
    leader = LineString([label.start, label.dot])
    assert leader.intersection(box(22, 24, 29, 40)).length < 1.0
    assert box(30, 10, 60, 40).contains(Point(label.dot))
    assert leader.length < 1.25 * 11.3 + 2.4


def test_a_name_is_moved_by_more_than_half_an_inch_where_only_that_leads_past_the_foot_of_a_piece():
    wide = (area(44, 20, 90, 26),)
    leg = (area(22, 0, 32, 33.5),)
    (label,) = clear_of(laid(wide, (46.0, 23.0)), NONE, grounds([wide, leg])).labels
    assert LineString([label.start, label.dot]).intersection(box(22, 0, 32, 33.5)).length < 1.0
    assert label.box[1] - 23.6 > 12.7


def test_it_stays_where_nothing_is_in_the_way_and_leaves_its_column_where_all_of_the_way_is_taken():
    layout = laid(MINE)
    assert clear_of(layout, NONE, grounds([MINE])) == layout
    assert clear_of(layout, NONE, grounds([MINE, (area(22, 45, 29, 60),)])) == layout
    wall = (area(22, 0, 29, 64),)
    (label,) = clear_of(layout, NONE, grounds([MINE, wall])).labels
    assert label.loose
    assert not LineString([label.start, label.dot]).intersects(box(22, 0, 29, 64))


def test_the_way_past_a_piece_crosses_no_other_leader_and_no_sign():
    other = Label(Wanted("top", (), (40.0, -5.0)), ("top",), "left", (5.0, 16.0, 20.0, 18.8), (40.0, 20.5))
    layout = laid(MINE)
    both = Layout(layout.paper, 98.0, 64.0, 2.8, (*layout.labels, other))
    sign = ((24.0, 12.0), (26.0, 12.0), (26.0, 16.0), (24.0, 16.0))
    moved, kept = clear_of(both, Signs((sign,), (sign,)), grounds([MINE, BEFORE])).labels
    assert kept == other
    leader = LineString([moved.start, moved.dot])
    assert not leader.crosses(LineString([other.start, other.dot]))
    assert leader.distance(Polygon(sign)) > 0.5


@pytest.mark.parametrize("count", [3, 4, 5])
def test_names_of_boards_behind_each_other_keep_off_the_boards_before_them(bench, count):
    """Thin boards in a row, as for a glue-up: from each a leader can leave where the next ones do not stand."""
    boards = [
        Shown(bench.piece(f"board {k}", block((0, 50.0 * k, 0), (150, 50.0 * k + 18, 110))), "worked")
        for k in range(count)
    ]
    picture = step_picture(bench.timeline(), bench.event("glue up", "front", boards), 98.0, 64.0)
    dots = [m.points[0] for m in picture.of_layer("dot")]
    assert len(dots) == count
    leaders = [LineString(leader) for leader in bench.leaders(picture)]
    assert all(not one.crosses(two) for n, one in enumerate(leaders) for two in leaders[:n])


BEDDING = LEADER / 2 + 0.2
"""From the middle of a leader to the edge of the white under it, mm."""


def outline(*points):
    """An area of the paper as what is seen of a piece in the view, where v points up and the scale is 2."""
    return (tuple((x / 2, -y / 2) for x, y in points), ())


FOOT = ((18.0, 34.0), (30.0, 34.0))


def near_corner(dot=(33.0, 25.0)):
    label = Label(Wanted("rail", (MINE,), (16.0, -12.5), 5.0), ("rail",), "left", (5.0, 23.6, 12.0, 26.4), dot)
    return Layout(Paper(2.0, 0.0, 0.0), 98.0, 64.0, 2.8, (label,))


@pytest.mark.parametrize("top", [24.0, 24.6, 25.1, 25.4])
def test_a_leader_that_clips_a_corner_or_touches_it_is_moved_beside_it(top):
    (label,) = clear_of(near_corner(), NONE, grounds([MINE, (outline(*FOOT, (24.0, top)),)])).labels
    leader = LineString([label.start, label.dot])
    assert leader.distance(Polygon([*FOOT, (24.0, top)])) > BEDDING
    assert box(30, 10, 60, 40).contains(Point(label.dot))
    assert leader.length < near_corner().labels[0].dot[0] - 12.7 + 3.0


def test_it_stays_where_nothing_is_near_and_leaves_its_column_where_all_of_the_way_is_taken():
    layout = near_corner()
    assert clear_of(layout, NONE, grounds([MINE, (outline(*FOOT, (24.0, 27.0)),)])).labels == layout.labels
    (label,) = clear_of(layout, NONE, grounds([MINE, (outline((18, 5), (24, 5), (24, 60), (18, 60)),)])).labels
    assert label.loose
    assert not LineString([label.start, label.dot]).intersects(box(18, 5, 24, 60))


def test_a_dot_leaves_the_joint_to_another_piece():
    """Two boards side by side: on a face of 12 mm the dot lay half a millimetre from the other one."""
    mine, other = (area(30, 10, 60, 22),), (area(30, 22, 60, 34),)
    layout = laid(mine, (40.0, 21.5), ((5.0, 20.1, 20.0, 22.9),))
    (label,) = clear_of(layout, NONE, grounds([mine, other])).labels
    assert box(30, 10, 60, 22).contains(Point(label.dot))
    assert box(30, 22, 60, 34).distance(Point(label.dot)) > 1.0


def test_a_thin_face_has_places_for_a_dot_too():
    """A strip 1.2 mm wide that runs askew; its dot lay beside a wall at its end."""
    ring = ((20.0, -10.0), (35.0, -25.0), (35.6, -24.6), (20.6, -9.6))
    strip, wall = ((ring, ()),), (area(71, 30, 90, 64),)
    strip_on_paper = Polygon([(2 * u, -2 * v) for u, v in ring])
    labels = laid(strip, (70.4, 49.4), ((5.0, 48.0, 20.0, 50.8),))
    (label,) = clear_of(labels, NONE, grounds([strip, wall])).labels
    assert strip_on_paper.contains(Point(label.dot))
    assert box(71, 30, 90, 64).distance(Point(label.dot)) > 1.0
