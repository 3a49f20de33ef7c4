"""What one cut takes off pieces that are held together comes off them by the same way; draws nothing."""

from collections.abc import Sequence
from dataclasses import replace

from planbook.solids import Vec3
from planbook.solids.frames import dot, times
from planbook.workshop.timeline import Event, Shown

SAME = 0.1
"""Layers whose outer faces lie within this of one another, mm, were one face before the cut."""


def level(event: Event) -> Event:
    """Pieces that are moved the same way and whose foremost faces are level go as far as that which goes farthest."""
    if event.show is None:
        return event
    pieces = event.show.pieces
    return replace(event, show=replace(event.show, pieces=tuple(_as_far(s, pieces) for s in pieces)))


def _as_far(one: Shown, shown: Sequence[Shown]) -> Shown:
    way = _way(one.apart)
    if way is None:
        return one
    with_it = [s for s in shown if _way(s.apart) == way and abs(_front(s, way) - _front(one, way)) < SAME]
    far = max(dot(s.apart, way) for s in with_it)
    return replace(one, apart=times(way, far)) if far > dot(one.apart, way) else one


def _front(shown: Shown, way: Vec3) -> float:
    return shown.piece.solid.reach(way)


def _way(apart: Vec3) -> Vec3 | None:
    """The unit vector of a move along one axis; None for any other."""
    moved = [k for k in range(3) if abs(apart[k]) > 1e-9]
    if len(moved) != 1:
        return None
    sign = 1.0 if apart[moved[0]] > 0 else -1.0
    x, y, z = (sign * (k == moved[0]) for k in range(3))
    return (x, y, z)
