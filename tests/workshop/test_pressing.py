"""Along which ways what is glued is pressed: sizes by hand."""

import math

import pytest

from planbook.solids import FACE_FRAMES, Area, Solid
from planbook.solids.solid import block, prism
from planbook.text import Place
from planbook.workshop import At, Cue, Piece
from planbook.workshop.glue_apart import AHEAD, glued_apart
from planbook.workshop.mating import contacts
from planbook.workshop.pressing import pressed


def tips(axis: str, **solids: Solid) -> list[tuple[str, tuple[float, float, float]]]:
    """Which pieces are pressed where, along one axis first."""
    return [(cue.piece, cue.points[-1]) for cue in cues(axis, **solids)]


def cues(axis: str, **solids: Solid) -> tuple[Cue, ...]:
    """The signs of that."""
    place = At(1, 1, Place("steps.md"))
    shown = glued_apart([Piece(name, solid, (), place) for name, solid in solids.items()], axis)
    met = contacts([s.piece.solid for s in shown], FACE_FRAMES[AHEAD[axis]])
    return pressed(shown, axis, met)


def test_a_rail_is_pressed_up_to_its_shelf_while_that_is_pressed_between_its_sides():
    """A rail of 400 mm: over the middle of each of its halves, from below and on the shelf."""
    left, right = block((0, 0, 0), (20, 150, 300)), block((420, 0, 0), (440, 150, 300))
    shelf, rail = block((20, 0, 100), (420, 150, 118)), block((20, 120, 60), (420, 140, 100))
    found = tips("x", left=left, shelf=shelf, rail=rail, right=right)
    assert {name for name, (x, _, _) in found if x in (0.0, 440.0)} == {"left", "right"}
    for name, level in (("rail", 60), ("shelf", 118)):
        upward = sorted(at for piece, at in found if piece == name)
        assert upward == [pytest.approx((x, 130, level), abs=0.1) for x in (120, 320)]


def test_a_frame_of_mitres_is_pulled_together_in_the_middle_of_all_four_sides():
    """A frame of 400 by 300 mm, 20 mm wide and 30 mm high: as a band around it does."""
    top, corners = FACE_FRAMES["top"], [(0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0)]
    inner = [(20.0, 20.0), (380.0, 20.0), (380.0, 280.0), (20.0, 280.0)]
    sides = {
        name: prism(Area.of([corners[a], corners[b], inner[b], inner[a]]), top, 0, 30)
        for name, a, b in (("front", 0, 1), ("right", 1, 2), ("back", 2, 3), ("left", 3, 0))
    }
    middles = {"front": (200, 0, 15), "right": (400, 150, 15), "back": (200, 300, 15), "left": (0, 150, 15)}
    found = cues("y", **sides)
    assert {cue.kind for cue in found} == {"push"}
    assert {cue.piece: cue.points[-1] for cue in found} == {
        name: pytest.approx(at, abs=0.1) for name, at in middles.items()
    }
    for cue in found:  # from outside
        assert math.dist(cue.points[0], (200, 150, 15)) > math.dist(cue.points[-1], (200, 150, 15))


def test_a_rail_that_is_hollow_below_is_pressed_on_both_shoulders_of_its_tongues():
    """A rail 80 mm high with an arch of 30 mm: straight through is wood at the upper shoulder, 60 to 80 mm, alone."""
    rail = block((20, 0, 0), (320, 20, 80)).minus(block((60, -1, -1), (280, 21, 30)))
    rail = rail.plus(block((0, 0, 20), (20, 20, 60)), block((320, 0, 20), (340, 20, 60)))
    slot = [block((x, 0, 20), (x + 20, 20, 60)) for x in (0, 320)]
    sides = [block((x, -40, -20), (x + 20, 60, 100)).minus(slot[n]) for n, x in enumerate((0, 320))]
    found = tips("x", left=sides[0], rail=rail, right=sides[1])
    assert sorted(at for name, at in found if name == "left") == [
        pytest.approx((0, 10, 10), abs=0.5),
        pytest.approx((0, 10, 70), abs=0.5),
    ]
    assert sum(name == "right" for name, _ in found) == 2
