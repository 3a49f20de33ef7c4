"""Parts stood up as they will be joined, drawn apart so that each is seen to stand as it does; it draws nothing."""

from dataclasses import replace
from itertools import combinations

from planbook.drawing.apart_in_sight import in_sight
from planbook.drawing.views import HOME
from planbook.workshop.timeline import Event, Shown

BESIDE = 2.0
"""Pieces that are no farther from one another touch, or will, mm."""
ROOM = (90.0, 70.0)
"""The room for which they are spread, mm on paper: only its shape matters."""


def stood_apart(event: Event) -> Event:
    """The event with the pieces that were turned pulled apart where they stand in one another; others as they are."""
    show = event.show
    if show is None or any(any(s.apart) for s in show.pieces):
        return event
    worked = [s for s in show.pieces if s.role != "context"]
    if not any(_touch(one, two) for one, two in combinations(worked, 2)):
        return event
    moves = in_sight([s.piece.solid for s in worked], [s.piece.name for s in worked], HOME, *ROOM)
    apart = {s.piece.name: by for s, by in zip(worked, moves, strict=True)}
    pieces = tuple(replace(s, apart=apart.get(s.piece.name, s.apart)) for s in show.pieces)
    return replace(event, show=replace(show, pieces=pieces))


def _touch(one: Shown, two: Shown) -> bool:
    return one.piece.solid.gap(two.piece.solid, BESIDE) < BESIDE
