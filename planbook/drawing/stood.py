"""Parts that stand as they will be joined, drawn apart so that the faces between them are seen; it draws nothing."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import combinations

from planbook.drawing.apart_in_sight import in_sight
from planbook.drawing.pulled_apart import spread
from planbook.drawing.views import HOME
from planbook.solids import Vec3
from planbook.workshop.cutting import laid_apart
from planbook.workshop.one_layer import drawn_apart, layers
from planbook.workshop.placing import CLEAR, drawn_out, seen_from
from planbook.workshop.timeline import Event, Shown
from planbook.workshop.ways_out import locked

BESIDE = 2.0
"""Pieces that are no farther from one another touch, or will, mm."""
SAME = 1e-3
"""Share of the smaller one that two solids have in common if they stand through one another."""
CLOSE = 0.1
"""Air between pieces of a layer in the picture of a step, in thicknesses: it has less room than an exploded view."""
ROOM = (90.0, 70.0)
"""The room for which they are spread, mm on paper: only its shape matters."""


def stood_apart(event: Event) -> Event:
    """The event with the pieces that were worked pulled apart where they stand in one another; others as they are."""
    return _moved(event, _touch, _in_sight)


def cleared(event: Event) -> Event:
    """The event with boards laid apart that stand through one another, for they are cut to their joint later."""
    return _moved(event, _overlap, _laid)


def loosened(event: Event) -> Event:
    """The event with pieces that lock one another in a layer drawn apart in it, for what is done to each of them."""
    if event.show is None or any(any(s.apart) for s in event.show.pieces):
        return event
    worked = [s for s in event.show.pieces if s.role != "context"]
    moves: dict[str, Vec3] = {}
    for layer in layers([s.piece.solid for s in worked]):
        by = drawn_apart([worked[n].piece.solid for n in layer], air=CLOSE)
        moves |= {worked[n].piece.name: move for n, move in zip(layer, by, strict=True)}
    if not moves:
        return event
    pieces = tuple(replace(s, apart=moves.get(s.piece.name, s.apart)) for s in event.show.pieces)
    return replace(event, show=replace(event.show, pieces=pieces))


def taken_apart(event: Event) -> Event:
    """The event with pieces that stand in one another drawn out of their largest, each on a way that it can take."""
    found = _moved(event, _touch, _taken_out)
    if found is event or found.show is None or found.show.face:
        return found
    return replace(found, show=replace(found.show, face=seen_from(found.show.pieces)))


def _moved(event: Event, met: Callable[[Shown, Shown], bool], apart: Callable[[list[Shown]], Sequence[Vec3]]) -> Event:
    show = event.show
    if show is None or any(any(s.apart) for s in show.pieces):
        return event
    worked = [s for s in show.pieces if s.role != "context"]
    if not any(met(one, two) for one, two in combinations(worked, 2)):
        return event
    moves = {s.piece.name: by for s, by in zip(worked, apart(worked), strict=True)}
    pieces = tuple(replace(s, apart=moves.get(s.piece.name, s.apart)) for s in show.pieces)
    return replace(event, show=replace(show, pieces=pieces))


def _in_sight(worked: list[Shown]) -> Sequence[Vec3]:
    return in_sight([s.piece.solid for s in worked], [s.piece.name for s in worked], HOME, *ROOM)


def _taken_out(worked: list[Shown]) -> Sequence[Vec3]:
    """Those that touch, or touch what does, are drawn apart together; what stands by itself stays.

    Of a layer of pieces that lock one another nothing comes off the largest: it is drawn off as a whole, and apart.
    """
    left, moves = list(worked), dict[str, Vec3]()
    while left:
        group = [left.pop(0)]
        for one in group:
            near = [s for s in left if _touch(one, s)]
            group += near
            left = [s for s in left if s not in near]
        solids = [s.piece.solid for s in group]
        if layers(solids):
            moves |= {s.piece.name: by for s, by in zip(group, spread(solids), strict=True)}
        else:
            pieces = [s.piece for s in group]
            moves |= {s.piece.name: s.apart for s in drawn_out(pieces, held=locked(pieces), share=CLEAR)}
    return [moves[s.piece.name] for s in worked]


def _laid(worked: list[Shown]) -> Sequence[Vec3]:
    """Along the axis on which they lie farthest from one another already."""
    middles = [s.piece.solid.middle for s in worked]
    far = [max(m[k] for m in middles) - min(m[k] for m in middles) for k in range(3)]
    return [s.apart for s in laid_apart([(s.piece, s.role) for s in worked], "xyz"[far.index(max(far))])]


def _touch(one: Shown, two: Shown) -> bool:
    return one.piece.solid.gap(two.piece.solid, BESIDE) < BESIDE


def _overlap(one: Shown, two: Shown) -> bool:
    return one.piece.solid.meet(two.piece.solid).volume > SAME * min(one.piece.solid.volume, two.piece.solid.volume)
