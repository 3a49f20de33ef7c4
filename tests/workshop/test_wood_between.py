"""Where a clamp would press on wood all the way across; sizes by hand."""

import pytest

from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block
from planbook.workshop.wood_between import wood_between

BACK, TOP = FACE_FRAMES["back"], FACE_FRAMES["top"]


def test_over_the_walls_of_a_hollow_box_and_not_over_its_hollow():
    """A box of 100 by 80 mm, its walls 10 mm thick, between two plates: the walls are 100 * 80 - 80 * 60 mm2."""
    walls = block((0, 10, 0), (100, 50, 80)).minus(block((10, 9, 10), (90, 51, 70)))
    plates = [block((0, y, 0), (100, y + 10, 80)) for y in (0, 50)]
    found = wood_between([plates[0], walls, plates[1]], BACK)
    assert found.size == pytest.approx(3200, rel=1e-3)
    assert not any(found.holds((sign * 50, 40)) for sign in (1, -1))


def test_air_before_the_first_wood_is_no_hollow():
    """Under an arch a clamp presses on its crown, which is wood up to the top."""
    arch = block((0, 0, 0), (100, 20, 80)).minus(block((30, -1, -1), (70, 21, 50)))
    assert wood_between([arch], TOP).size == pytest.approx(100 * 20, rel=1e-3)


def test_the_play_beside_a_tongue_is_no_hollow():
    """A tongue of 10 mm with 0.2 mm of air around it; a slot of 5 mm beside another one is a hollow."""
    slotted = block((0, 0, 0), (60, 60, 40)).minus(block((19.8, -1, 10), (30.2, 61, 30)))
    tongue = block((20, 0, 10), (30, 60, 30))
    assert wood_between([slotted, tongue], TOP).size == pytest.approx(60 * 60, rel=1e-3)
    assert wood_between([slotted], TOP).size == pytest.approx((60 - 10.4) * 60, rel=1e-3)
