"""Along which ways what is glued is pressed: sizes by hand."""

import pytest

from planbook.solids import FACE_FRAMES, Area, Solid
from planbook.solids.solid import block, prism
from planbook.text import Place
from planbook.workshop import At, Piece
from planbook.workshop.glue_apart import AHEAD, glued_apart
from planbook.workshop.mating import contacts
from planbook.workshop.pressing import pressed


def tips(axis: str, **solids: Solid) -> list[tuple[str, tuple[float, float, float]]]:
    """Which pieces are pressed where, along one axis first."""
    place = At(1, 1, Place("steps.md"))
    shown = glued_apart([Piece(name, solid, (), place) for name, solid in solids.items()], axis)
    met = contacts([s.piece.solid for s in shown], FACE_FRAMES[AHEAD[axis]])
    return [(cue.piece, cue.points[-1]) for cue in pressed(shown, axis, met)]


def test_a_rail_is_pressed_up_to_its_shelf_while_that_is_pressed_between_its_sides():
    """A rail of 400 mm: over the middle of each of its halves, from below and on the shelf."""
    left, right = block((0, 0, 0), (20, 150, 300)), block((420, 0, 0), (440, 150, 300))
    shelf, rail = block((20, 0, 100), (420, 150, 118)), block((20, 120, 60), (420, 140, 100))
    found = tips("x", left=left, shelf=shelf, rail=rail, right=right)
    assert {name for name, (x, _, _) in found if x in (0.0, 440.0)} == {"left", "right"}
    for name, level in (("rail", 60), ("shelf", 118)):
        upward = sorted(at for piece, at in found if piece == name)
        assert upward == [pytest.approx((x, 130, level), abs=0.1) for x in (120, 320)]


def test_a_frame_of_mitres_is_pressed_over_its_walls_from_all_four_sides():
    """A frame of 400 by 300 mm, 20 mm wide: each clamp stands in line with a side, 10 mm from the corner."""
    top, corners = FACE_FRAMES["top"], [(0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0)]
    inner = [(20.0, 20.0), (380.0, 20.0), (380.0, 280.0), (20.0, 280.0)]
    sides = {
        name: prism(Area.of([corners[a], corners[b], inner[b], inner[a]]), top, 0, 30)
        for name, a, b in (("front", 0, 1), ("right", 1, 2), ("back", 2, 3), ("left", 3, 0))
    }
    found = tips("y", **sides)
    assert len(found) == 8
    for name, (x, y, z) in found:
        assert z == pytest.approx(15, abs=1)
        along, across = (x, y) if name in ("front", "back") else (y, x)
        assert across in (pytest.approx(0), pytest.approx(300), pytest.approx(400))
        assert min(along, (400 if name in ("front", "back") else 300) - along) == pytest.approx(10, abs=1)
