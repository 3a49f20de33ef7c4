"""The floor of a hollow: how much of it there is to line, and where a picture may point at it."""

import pytest

from planbook.solids import FACE_FRAMES, Solid
from planbook.solids.solid import block, cylinder
from planbook.workshop.operations.line import floor_of

TOP = FACE_FRAMES["top"]


def _tray(low: float) -> Solid:
    """A tray of 100 x 60 x 40 mm with walls of 10 mm and a floor of 8 mm; those left and right `low` mm lower."""
    whole = block((0, 0, 0), (100, 60, 40)).minus(block((10, 10, 8), (90, 50, 50)))
    return (
        whole.minus(block((-1, 10, 40 - low), (10, 50, 50)), block((90, 10, 40 - low), (101, 50, 50))) if low else whole
    )


@pytest.mark.parametrize("low", [0.0, 2.0, 12.0])
def test_walls_that_are_lower_than_the_rim_are_no_floor(low: float) -> None:
    floor = floor_of(_tray(low), TOP)
    assert floor.size == pytest.approx(80 * 40)
    assert floor.bounds == pytest.approx((10, 10, 90, 50))


def test_the_rounded_outside_of_a_wall_is_no_floor() -> None:
    side = cylinder(FACE_FRAMES["front"], (0.0, 0.0), 20.0, -60.0, 0.0)
    rounded = _tray(0.0).minus(block((-1, -1, -1), (5, 61, 41))).plus(side.meet(block((2, 0, 0), (9, 60, 40))))
    assert rounded.bounds[0][0] == pytest.approx(2)
    assert floor_of(rounded, TOP).bounds == pytest.approx((10, 10, 90, 50))


def test_two_hollows_are_two_floors() -> None:
    both = block((0, 0, 0), (110, 60, 20)).minus(block((10, 10, 5), (50, 50, 30)), block((60, 10, 5), (100, 50, 30)))
    floor = floor_of(both, TOP)
    assert [part.size for part in floor.parts] == pytest.approx([1600, 1600])


def test_a_block_has_no_floor() -> None:
    assert floor_of(block((0, 0, 0), (30, 30, 30)), TOP).size == 0
