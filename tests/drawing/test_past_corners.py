"""Leaders that clip corners of other pieces are moved a little; the rest stays where it is."""

import pytest
from shapely.geometry import LineString, Point, Polygon, box

from planbook.drawing.dodge import Signs
from planbook.drawing.ink import LEADER
from planbook.drawing.names import Label, Layout, Wanted
from planbook.drawing.paper import Paper
from planbook.drawing.past_corners import LONGER, past_corners
from planbook.solids.hatch import grounds

NONE = Signs((), ())
BEDDING = LEADER / 2 + 0.2
"""From the middle of a leader to the edge of the white under it, mm."""


def area(*points):
    """An area of the paper as what is seen of a piece in the view, where v points up and the scale is 2."""
    return (tuple((x / 2, -y / 2) for x, y in points), ())


MINE = (area((30, 40), (60, 40), (60, 10), (30, 10)),)
FOOT = ((18.0, 34.0), (30.0, 34.0))


def laid(dot=(33.0, 25.0)):
    label = Label(Wanted("rail", (MINE,), (16.0, -12.5), 5.0), ("rail",), "left", (5.0, 23.6, 12.0, 26.4), dot)
    return Layout(Paper(2.0, 0.0, 0.0), 98.0, 64.0, 2.8, (label,))


@pytest.mark.parametrize("top", [24.0, 24.6, 25.1, 25.4])
def test_a_leader_that_clips_a_corner_or_touches_it_is_moved_beside_it(top):
    (label,) = past_corners(laid(), grounds([MINE, (area(*FOOT, (24.0, top)),)]), NONE).labels
    leader = LineString([label.start, label.dot])
    assert leader.distance(Polygon([*FOOT, (24.0, top)])) > BEDDING
    assert box(30, 10, 60, 40).contains(Point(label.dot))
    assert leader.length < laid().labels[0].dot[0] - 12.7 + LONGER


def test_it_stays_where_nothing_is_near_or_all_of_the_way_is_taken():
    for corner in (area(*FOOT, (24.0, 27.0)), area((18, 5), (24, 5), (24, 60), (18, 60))):
        layout = laid()
        assert past_corners(layout, grounds([MINE, (corner,)]), NONE).labels == layout.labels
