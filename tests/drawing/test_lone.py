"""Rings of glue that are left by themselves of a large joint are not drawn; those of small joints are."""

from planbook.drawing.lone import NEAR, SMALL, without_lone
from planbook.drawing.marks import Pen, Stroke
from planbook.workshop import Cue

LARGE = ((0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0))
CUE = Cue("glue face", ((0.0, 0.0, 0.0), (40.0, 0.0, 0.0), (40.0, 30.0, 0.0), (0.0, 30.0, 0.0)), "board")


def rings(*spots):
    """Each on its white bed, as they are drawn."""
    return tuple(Stroke((spot,), Pen(width), "glue face") for width in (0.8, 0.4) for spot in spots)


def test_rings_in_a_row_stay_and_lone_ones_go():
    row, lone = ((3.0, 3.0), (5.6, 3.0), (8.2, 3.0)), ((30.0, 20.0), (8.2, 3.0 + NEAR + 0.1))
    assert without_lone(CUE, LARGE, rings(*row, *lone)) == rings(*row)
    assert without_lone(CUE, LARGE, rings(lone[0])) == ()


def test_a_joint_that_has_room_for_one_ring_keeps_it():
    side = SMALL**0.5
    small = ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))
    assert without_lone(CUE, small, rings((2.0, 2.0))) == rings((2.0, 2.0))


def test_other_signs_are_left_alone():
    cue = Cue("sand", CUE.points, "board")
    assert without_lone(cue, LARGE, rings((3.0, 3.0))) == rings((3.0, 3.0))
