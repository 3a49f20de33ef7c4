"""Where a clamp presses a sawn cut together; sizes by hand."""

import math

import pytest

from planbook.solids import FACE_FRAMES, Area, Path, Solid
from planbook.solids.plane import circle
from planbook.solids.solid import block, prism
from planbook.text import Place
from planbook.workshop import At, Piece
from planbook.workshop.closing import SQUARE, closing

FRONT = FACE_FRAMES["front"]


def pressed(solid: Solid, *line: tuple[float, float]) -> list[tuple[float, float, float]]:
    """Where the clamp stands on a solid that is 40 mm deep, with a cut along a line of its front."""
    piece = Piece("ring", solid, (), At(1, 1, Place("steps.md")))
    return [cue.points[-1] for cue in closing(piece, Path(line), FRONT, -20.0)]


def test_a_level_cut_is_pressed_from_above_and_from_below_over_its_middle():
    ring = block((0, 0, 0), (200, 40, 100)).minus(block((30, -1, 30), (170, 41, 70)))
    found = pressed(ring.minus(block((-1, -1, 49), (31, 41, 51))), (0, 50), (30, 50))
    assert sorted(found, key=lambda p: p[2]) == [pytest.approx((15, 20, 0)), pytest.approx((15, 20, 100))]


def test_an_upright_cut_is_pressed_from_both_sides():
    found = pressed(block((0, 0, 0), (200, 40, 100)).minus(block((99, -1, -1), (101, 41, 30))), (100, 0), (100, 30))
    assert sorted(found) == [pytest.approx((0, 20, 15)), pytest.approx((200, 20, 15))]


def test_a_clamp_stands_off_a_round_side_where_it_would_slip():
    """A disc of 100 mm: it lies square enough to a level clamp where its radius leans by no more than the cosine."""
    disc = prism(circle((100, 100), 100), FRONT, -40, 0).minus(block((-1, -1, 99), (60, 41, 101)))
    found = pressed(disc, (0, 100), (60, 100))
    assert len(found) == 2
    (x, _, z), (u, _, w) = found
    assert x == pytest.approx(u)
    assert {z > 100, w > 100} == {True, False}
    assert 60 > 100 - x > 0
    assert abs(z - 100) / 100 > SQUARE - 0.02
    assert abs(z - 100) == pytest.approx(math.sqrt(100**2 - (100 - x) ** 2), abs=0.1)


def test_there_is_no_clamp_where_nothing_lies_square_to_it():
    lozenge = block((-60, 0, -60), (60, 40, 60)).turned((0, 1, 0), 45, (0, 20, 0))
    assert pressed(lozenge, (-80, 0), (-40, 0)) == []


def test_there_is_no_clamp_where_the_wood_lies_square_to_it_only_far_from_the_cut():
    """A wedge of 200 mm that is level only in its last third: its sides lean by 15 degrees at the cut."""
    low, high = (0.0, 0.0), 200.0
    rise = 120 * math.tan(math.radians(15))
    outline = Area.of([low, (high, 0.0), (high, 60.0), (120.0, 60.0), (0.0, 60.0 - rise)])
    wedge = prism(outline, FRONT, -40, 0)
    assert pressed(wedge, (0, 20), (20, 20)) == []
    assert len(pressed(wedge, (100, 20), (120, 20))) == 2


def test_an_arch_over_a_hollow_is_pressed_on_its_crown_to_close_a_cut_at_its_foot():
    """Half a ring, 200 mm wide and 10 mm thick, on a block; the cut goes through its right foot, 5 mm up."""
    outer, inner = (prism(circle((100, 0), radius), FRONT, -40, 0) for radius in (100, 90))
    arch = outer.minus(inner).minus(block((-1, -1, -101), (201, 41, 0))).plus(block((0, 0, -30), (200, 40, 0)))
    found = pressed(arch.minus(block((189, -1, 4), (201, 41, 6))), (190, 5), (200, 5))
    assert len(found) == 2
    (x, _, low), (_, _, high) = sorted(found, key=lambda p: p[2])
    assert low == pytest.approx(-30)
    # Square to the clamp within the cosine, and as near to the cut as that allows.
    assert math.hypot(x - 100, high) == pytest.approx(100, abs=0.1)
    assert 10 < x - 100 < 100 * math.sqrt(1 - SQUARE**2) + 1
