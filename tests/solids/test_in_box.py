"""What of a solid lies in a box: volumes against cutting it, and against formulas."""

import math

import pytest

from planbook.solids import FACE_FRAMES
from planbook.solids.in_box import joined_boxes, volume_in
from planbook.solids.solid import block, cylinder

BOXES = (
    ((-3.0, -4.0, 2.0), (5.0, 6.0, 7.5)),
    ((0.0, 0.0, 0.0), (10.0, 10.0, 10.0)),
    ((-50.0, 1.0, -50.0), (50.0, 2.0, 50.0)),
    ((-50.0, -50.0, 10.0), (50.0, 50.0, 20.0)),
    ((30.0, 0.0, 0.0), (40.0, 10.0, 10.0)),
)


@pytest.mark.parametrize("box", BOXES)
def test_the_volume_in_a_box_is_that_of_the_part_cut_out(box) -> None:
    bar = cylinder(FACE_FRAMES["top"], (0.0, 0.0), 8.0, 0.0, 20.0).turned((1.0, 2.0, 0.5), 33.0)
    ring = bar.minus(cylinder(FACE_FRAMES["top"], (1.0, 0.0), 3.0, -50.0, 50.0)).plus(block((0, 0, 0), (9, 9, 9)))
    assert volume_in(ring, box) == pytest.approx(ring.meet(block(*box)).volume, rel=1e-9, abs=1e-6)


def test_a_quarter_of_a_round_bar_is_a_quarter_of_its_formula() -> None:
    """Pi r2 h / 4; chords lie within 0.02 mm of the arc, which takes off less than 0.3 % at a radius of 10 mm."""
    bar = cylinder(FACE_FRAMES["top"], (0.0, 0.0), 10.0, 0.0, 30.0)
    assert volume_in(bar, ((0.0, 0.0, 5.0), (99.0, 99.0, 25.0))) == pytest.approx(math.pi * 100 * 20 / 4, rel=3e-3)


def test_boxes_that_share_a_side_become_one():
    stack = [((0, 0, z), (9, 7, z + 2)) for z in (0, 4, 2)]
    assert joined_boxes(stack) == [((0, 0, 0), (9, 7, 6))]
    assert joined_boxes([((1, 1, 1), (2, 2, 2)), ((0, 0, 0), (9, 7, 6))]) == [((0, 0, 0), (9, 7, 6))]


def test_boxes_that_would_fill_more_together_stay_apart():
    beside = [((0, 0, 0), (9, 7, 6)), ((9, 0, 0), (12, 7, 5))]
    away = [((0, 0, 0), (9, 7, 6)), ((0, 0, 7), (9, 7, 8))]
    assert joined_boxes(beside) == beside
    assert joined_boxes(away) == away
    assert joined_boxes([]) == []
