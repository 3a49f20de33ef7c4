"""The flat walls of an opening: which they are, how large and where; sizes by hand."""

import pytest

from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop.openings import wall_of

CASE = block((0, 0, 0), (300, 100, 120)).minus(block((200, 20, 30), (301, 80, 90)))
"""Open on the right: 100 deep, 60 wide and 60 high, 30 above the bottom and 20 from the back."""


@pytest.mark.parametrize(
    ("wall", "size", "level"),
    [("bottom", 6000, 30), ("top", 6000, -90), ("back", 6000, -80), ("front", 6000, 20), ("left", 3600, 200)],
)
def test_each_wall_of_an_opening_is_found_at_its_level(wall, size, level):
    area, found = wall_of(CASE, wall, "right")
    assert area.size == pytest.approx(size, rel=0.01)
    assert found == pytest.approx(level)


def test_the_outside_is_no_wall_nor_is_that_of_another_opening():
    two = CASE.minus(block((20, -1, 10), (120, 60, 90)))
    assert wall_of(two, "bottom", "right")[1] == pytest.approx(30)
    area, level = wall_of(two, "bottom", "front")
    assert (area.size, level) == (pytest.approx(6000, rel=0.01), pytest.approx(10))
    assert wall_of(two, "right", "right")[0].empty
    assert wall_of(block((0, 0, 0), (300, 100, 120)), "bottom", "right")[0].empty
    assert wall_of(CASE, "bottom", "left")[0].empty


def test_a_tray_that_is_open_above_has_no_floor_under_wood():
    tray = block((0, 0, 0), (100, 100, 40)).minus(block((10, 10, 10), (90, 90, 41)))
    assert wall_of(tray, "bottom", "right")[0].empty


def test_of_a_floor_between_round_corners_the_flat_part_counts():
    corners = [cylinder(FACE_FRAMES["front"], (x, 30), 20, -1, 101) for x in (60, 140)]
    hollow = block((60, -1, 10), (140, 80, 50)).plus(*(c.moved((0, 0, 0)) for c in corners))
    area, level = wall_of(
        block((0, 0, 0), (200, 100, 80)).minus(hollow.meet(block((0, -1, 0), (200, 80, 80)))), "bottom", "front"
    )
    assert level == pytest.approx(10, abs=0.01)
    assert area.size == pytest.approx(80 * 80, rel=0.05)
