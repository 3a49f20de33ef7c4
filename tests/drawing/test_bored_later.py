"""Holes that a piece gets as a part of another one are told with the step that bores them."""

from dataclasses import replace
from math import pi
from types import SimpleNamespace
from typing import Any, cast

import pytest

from planbook.drawing.bored_later import Later, agreed, fitted_holes, with_later
from planbook.drawing.piece_notes import SheetWords, later_told
from planbook.model import Node, Operation
from planbook.solids import FACE_FRAMES, Solid
from planbook.solids.solid import block, cylinder
from planbook.text import Place
from planbook.units import MM_TENTH
from planbook.workshop import At, Event, Lost, Piece, Timeline

PLACE = Place("steps.md")
FRONT = FACE_FRAMES["front"]


def piece(name: str, solid: Solid, *sources: str) -> Piece:
    return Piece(name, solid, (), At(1, 1, PLACE), sources)


def event(step: int, taken: tuple[Piece, ...], made: tuple[Piece, ...], *holes: Solid, **settings: Any) -> Event:
    operation = Operation("bore", Node({}, PLACE), step, 1, PLACE)
    lost = tuple(Lost("hole", hole, hole.volume) for hole in holes)
    at, known = At(step, 1, PLACE), tuple(settings.items())
    return Event(operation, at, taken, made, lost, (), None, {}, 0.0, 0.0, 0.0, known)


def build() -> tuple[Timeline, Piece, Piece]:
    """A front and a back, glued into a box into whose front alone two holes of 12 mm, 5 mm deep, are bored."""
    front, back = piece("front", block((0, 0, 0), (80, 9, 40))), piece("back", block((0, 60, 0), (80, 69, 40)))
    whole = piece("box", front.solid.plus(back.solid), "front", "back")
    holes = [cylinder(FRONT, (u, 20), 6.0, -5.0, 1.0).meet(front.solid) for u in (20, 60)]
    bored = replace(whole, solid=whole.solid.minus(*holes))
    bore = event(4, (whole,), (bored,), *holes, diameter=12.0, face="front")
    events = (event(1, (front, back), (whole,)), bore)
    return Timeline(cast(Any, SimpleNamespace()), {}, {}, events, (), {}, {}, (), ()), front, back


def test_holes_into_both_ends_of_a_shelf_are_told_from_both_sides_with_their_depth_in_its_wood() -> None:
    """A shelf between two sides of 20 mm, screwed through them; a rod goes through its whole depth. It is drawn once
    with a shelf that gets none of that, so that all is told.
    """
    shelf = piece("shelf", block((20, 0, 0), (120, 60, 18)))
    sides = [piece(name, block((x, 0, 0), (x + 20, 60, 80))) for name, x in (("one", 0), ("two", 120))]
    whole = piece("case", shelf.solid.plus(*(side.solid for side in sides)), "shelf", "one", "two")
    left = cylinder(FACE_FRAMES["left"], (-30, 9), 1.5, -50.0, 0.0)
    right = cylinder(FACE_FRAMES["right"], (30, 9), 1.5, 90.0, 140.0)
    rod = cylinder(FRONT, (70, 9), 2.0, -60.0, 0.0)
    events = (
        event(1, (shelf, *sides), (whole,)),
        event(2, (whole,), (whole,), left, diameter=3.0, face="left"),
        event(2, (whole,), (whole,), right, diameter=3.0, face="right"),
        event(3, (whole,), (whole,), rod, diameter=4.0, face="front"),
    )
    timeline = Timeline(cast(Any, SimpleNamespace()), {}, {}, events, (), {}, {}, (), ())
    found = with_later(timeline, {"shelf": shelf, "spare": replace(shelf, name="spare")}).told["shelf"]
    assert found == (Later(2, 3.0, 2, 30.0, ("left", "right")), Later(3, 4.0, 1, 0.0, ("front",)))
    assert later_told({"shelf": found}, {"shelf": 1}, MM_TENTH, SheetWords()) == [
        "2 × Ø 3, 30 deep, bored in step 2 from the left and from the right",
        "Ø 4, through, bored in step 3 from the front",
    ]


def test_holes_of_a_later_step_are_drawn_where_they_come_in_all_pieces_that_are_drawn_once() -> None:
    """Two of radius 6, 5 deep, at 20 and 60 of 80 mm, 20 high; each is a polygon of a little less than pi r2."""
    timeline, front, back = build()
    alone = with_later(timeline, {"front": front})
    lost = front.solid.volume - alone.solid.volume
    assert lost == pytest.approx(2 * 5 * 36 * pi, rel=0.01)
    assert {(axis, round(x), round(z)): step for (axis, (x, z)), step in alone.steps.items()} == {
        (1, 20, 20): 4,
        (1, 60, 20): 4,
    }
    assert alone.told == {"front": ()}
    both = with_later(timeline, {"front": front, "back": back})
    assert both.solid.volume == front.solid.volume
    assert both.steps == {}
    assert both.told == {"front": (Later(4, 12.0, 2, 5.0, ("front",)),), "back": ()}


def test_a_hole_that_runs_out_of_the_side_of_a_piece_is_told_and_not_drawn() -> None:
    """Of a hole of 12 mm whose middle lies 2 mm inside the upper edge, the wood is no circle."""
    timeline, front, _ = build()
    (glued, bore), edge = timeline.events, cylinder(FRONT, (20, 38), 6.0, -5.0, 1.0).meet(front.solid)
    low = replace(timeline, events=(glued, replace(bore, lost=(Lost("hole", edge, edge.volume),))))
    found = with_later(low, {"front": front})
    assert found.solid.volume == front.solid.volume
    assert found.told == {"front": (Later(4, 12.0, 1, 5.0, ("front",)),)}


def test_a_hole_is_told_with_its_step_and_the_numbers_of_its_pieces() -> None:
    holes, words = (Later(4, 12.0, 2),), SheetWords()
    assert later_told({"front": holes}, {"front": 3}, MM_TENTH, words) == ["2 × Ø 12, bored in step 4"]
    some = later_told({"front": holes, "back": ()}, {"front": 3, "back": 4}, MM_TENTH, words)
    assert some == ["3: 2 × Ø 12, bored in step 4"]


def test_holes_for_hardware_are_told_by_their_place_on_the_piece() -> None:
    rail = piece("rail", block((10, 0, 0), (90, 9, 40)))
    hole = cylinder(FACE_FRAMES["top"], (30, 4), 1.5, 20.0, 41.0).meet(rail.solid)
    made = (replace(rail, solid=rail.solid.minus(hole)),)
    events = (
        event(2, (rail,), made, hole, hardware="screws", face="top"),
        event(3, (rail,), made, hole, face="top"),
    )
    timeline = Timeline(cast(Any, SimpleNamespace()), {}, {}, events, (), {}, {}, (), ())
    ((spot, step),) = fitted_holes(timeline, "rail", rail).items()
    assert (spot[0], step) == (2, 2)
    assert spot[1] == pytest.approx((20, 4), abs=0.01)
    assert fitted_holes(timeline, "other", rail) == {}


def test_pieces_drawn_once_are_told_the_steps_that_they_share() -> None:
    one = {(2, (20.0, 4.0)): 3, (2, (60.0, 4.0)): 3}
    assert agreed([one]) == one
    assert agreed([one, {(2, (20.02, 4.0)): 3, (2, (60.0, 4.0)): 5}]) == {(2, (20.0, 4.0)): 3}
