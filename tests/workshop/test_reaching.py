"""Where small clamps reach in through an opening of what is glued; sizes by hand."""

from math import dist

import pytest

from planbook.solids import FACE_FRAMES, Solid
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import At, Piece, Shown
from planbook.workshop.clamping import clamped
from planbook.workshop.mating import contacts
from planbook.workshop.timeline import REACHING

BACK = FACE_FRAMES["back"]
FRONT = block((0, 0, 0), (200, 10, 100))
FLOOR = block((0, 10, 0), (200, 110, 30))
"""Open above: the plates behind and in front of it stand up 70 mm more."""


def reaching(*solids: Solid) -> list[tuple[str, tuple[float, float, float]]]:
    """The pieces that small clamps press, and where, mm."""
    place = At(1, 1, Place("steps.md"))
    shown = [Shown(Piece(f"piece {n}", solid, (), place), "worked") for n, solid in enumerate(solids)]
    cues = clamped(shown, BACK, contacts(solids, BACK))
    return [(cue.piece, cue.points[-1]) for cue in cues if cue.text == REACHING]


def plates(thin: float = 10.0, thick: float = 10.0) -> tuple[Solid, Solid]:
    """Two plates behind the floor, glued all over."""
    return block((0, 110, 0), (200, 110 + thin, 100)), block((0, 110 + thin, 0), (200, 110 + thin + thick, 100))


def test_plates_over_an_open_hollow_are_pressed_from_its_inside_as_well():
    """Through the floor all is pressed up to 30 mm, which carries up to 55 mm; the rest is 45 mm high."""
    found = reaching(FRONT, FLOOR, *plates())
    inner, outer = found[::2], found[1::2]
    assert {name for name, _ in inner} == {"piece 2"}
    assert {name for name, _ in outer} == {"piece 3"}
    for (_, one), (_, two) in zip(inner, outer, strict=True):
        assert one == pytest.approx((two[0], 110, two[2]))
        assert two[1] == pytest.approx(130)
        assert 55 + 3 < one[2] < 100 - 3
    far = [min(dist((x, 78), (spot[0], spot[2])) for _, spot in inner) for x in range(5, 200, 5)]
    assert max(far) < 75


def test_nothing_reaches_into_a_hollow_that_is_closed_all_around():
    walls = block((0, 10, 0), (200, 110, 100)).minus(block((15, 9, 30), (185, 111, 85)))
    assert reaching(FRONT, walls, *plates()) == []


def test_what_is_too_thick_for_a_small_clamp_or_too_far_in_has_none():
    assert reaching(FRONT, FLOOR, *plates(30.0, 35.0)) == []
    low = block((0, 10, 0), (200, 110, 30)), block((0, 110, 0), (200, 120, 52)), block((0, 120, 0), (200, 130, 52))
    assert reaching(FRONT, *low) == []


def test_a_joint_that_is_pressed_through_all_the_wood_has_no_small_clamps():
    assert reaching(FRONT, block((0, 10, 0), (200, 110, 100)), *plates()) == []
