"""Holes that are bored when pieces come together: in which step, and how many its own drawing cannot show."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import dist

from planbook.solids import FACE_FRAMES, Solid
from planbook.workshop import Event, Piece, Timeline

_SHARE = 0.1
"""A hole is one of a piece's if it takes at least this share of the hole from its wood."""


@dataclass(frozen=True, slots=True)
class Later:
    """So many holes of a diameter (mm) that a step bores into a piece."""

    step: int
    diameter: float
    count: int


def bored_later(timeline: Timeline, name: str, piece: Piece) -> tuple[Later, ...]:
    """The holes that are bored into a piece's wood after it has become part of another one, in the order of steps."""
    within = _grown_from(name, timeline.events)
    found: dict[tuple[int, float], int] = {}
    for event in timeline.events:
        diameter = dict(event.settings).get("diameter")
        if event.broken or not diameter or within.isdisjoint(taken.name for taken in event.taken):
            continue
        count = sum(_meets(hole, piece.solid) for hole in _holes(event))
        if count:
            key = (event.at.step, round(float(diameter), 6))
            found[key] = found.get(key, 0) + count
    return tuple(Later(step, diameter, count) for (step, diameter), count in sorted(found.items()))


Spot = tuple[int, tuple[float, float]]
"""A hole by its axis (0 x, 1 y, 2 z) and its middle in the two other axes, mm from the lower corner of its piece."""
NEAR = 0.1
"""Middles closer than this, mm, are one."""


def step_of(steps: Mapping[Spot, int], axis: int, middle: tuple[float, float]) -> int:
    """The step in which a hole is bored, of those with a step of their own; 0 for any other one."""
    return next((n for (a, spot), n in steps.items() if a == axis and dist(spot, middle) < NEAR), 0)


def fitted_holes(timeline: Timeline, name: str, piece: Piece) -> Mapping[Spot, int]:
    """The step of each hole that is bored into a piece for hardware while that is fitted, not by its drawing."""
    found: dict[Spot, int] = {}
    for event in timeline.events:
        told = dict(event.settings)
        if event.broken or not told.get("hardware") or name not in {taken.name for taken in event.taken}:
            continue
        axis = max(range(3), key=lambda a: abs(FACE_FRAMES[told["face"]].n[a]))
        for hole in _holes(event):
            right, up = (hole.middle[a] - piece.solid.bounds[0][a] for a in range(3) if a != axis)
            found[axis, (right, up)] = event.at.step
    return found


def agreed(steps: Sequence[Mapping[Spot, int]]) -> Mapping[Spot, int]:
    """The holes that are bored in one and the same step in all of some pieces that are drawn once."""
    first, *others = steps
    return {spot: n for spot, n in first.items() if all(step_of(other, *spot) == n for other in others)}


def _grown_from(name: str, events: Iterable[Event]) -> set[str]:
    """The pieces that a piece went into, and those that these went into."""
    found: set[str] = set()
    for made in (piece for event in events for piece in event.made):
        if made.name != name and not found.union((name,)).isdisjoint(made.sources):
            found.add(made.name)
    return found


def _holes(event: Event) -> tuple[Solid, ...]:
    return tuple(hole for lost in event.lost if lost.how == "hole" for hole in lost.solid.parts)


def _meets(hole: Solid, solid: Solid) -> bool:
    (low, high), (bottom, top) = hole.bounds, solid.bounds
    apart = any(a > d or c > b for a, b, c, d in zip(low, high, bottom, top, strict=True))
    return not apart and hole.meet(solid).volume > _SHARE * hole.volume
