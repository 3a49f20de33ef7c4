"""Holes that are bored when pieces come together: how many in which step, drawn where a drawing can show them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import dist

from planbook.solids import FACE_FRAMES, Solid
from planbook.workshop import Event, Piece, Timeline

_SHARE = 0.1
"""A hole is one of a piece's if it takes at least this share of the hole from its wood."""
NEAR = 0.1
"""Middles closer than this, mm, are one."""
Spot = tuple[int, tuple[float, float]]
"""A hole by its axis (0 x, 1 y, 2 z) and its middle in the two other axes, mm from the lower corner of its piece."""


@dataclass(frozen=True, slots=True)
class Later:
    """So many holes of a diameter (mm) that a step bores into a piece from some of its faces.

    `depth` is how far they run in its wood, mm; 0 where they run through. Holes that slant have no faces.
    """

    step: int
    diameter: float
    count: int
    depth: float = 0.0
    faces: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class _Hole:
    """One hole that is bored into a piece's wood after it has become part of another one; it has no place if it slants
    or runs out of the side of the wood.
    """

    step: int
    diameter: float
    depth: float
    face: str
    solid: Solid
    spot: Spot | None


@dataclass(frozen=True, eq=False, slots=True)
class Bored:
    """Some pieces that are drawn once: the first with what is bored into all of them later, the steps of its holes that
    have one, and what is bored into each piece and not drawn.
    """

    solid: Solid
    steps: Mapping[Spot, int]
    told: Mapping[str, tuple[Later, ...]]


def with_later(timeline: Timeline, pieces: Mapping[str, Piece]) -> Bored:
    """Holes of a later step are drawn where all of the pieces get them, and told otherwise."""
    holes = {name: _later(timeline, name, piece) for name, piece in pieces.items()}
    drawn = agreed([{hole.spot: hole.step for hole in some if hole.spot} for some in holes.values()])
    fitted = agreed([fitted_holes(timeline, name, piece) for name, piece in pieces.items()])
    first = next(iter(pieces))
    new = [hole.solid for hole in holes[first] if _among(hole, drawn)]
    solid = pieces[first].solid.minus(*new) if new else pieces[first].solid
    told = {name: _gathered(hole for hole in some if not _among(hole, drawn)) for name, some in holes.items()}
    return Bored(solid, {**fitted, **drawn}, told)


def _among(hole: _Hole, steps: Mapping[Spot, int]) -> bool:
    return hole.spot is not None and step_of(steps, *hole.spot) == hole.step


def _gathered(holes: Iterable[_Hole]) -> tuple[Later, ...]:
    """Holes that are told alike together, in the order of steps."""
    found: dict[tuple[int, float, float], list[str]] = {}
    for hole in holes:
        found.setdefault((hole.step, hole.diameter, hole.depth), []).append(hole.face)
    return tuple(
        Later(step, diameter, len(faces), depth, tuple(face for face in FACE_FRAMES if face in faces))
        for (step, diameter, depth), faces in sorted(found.items())
    )


def _later(timeline: Timeline, name: str, piece: Piece) -> list[_Hole]:
    """The holes that are bored into a piece's wood after it has become part of another one."""
    within, found = _grown_from(name, timeline.events), list[_Hole]()
    for event in timeline.events:
        told = dict(event.settings)
        if event.broken or not told.get("diameter") or within.isdisjoint(taken.name for taken in event.taken):
            continue
        face, wide = str(told.get("face", "")), round(float(told["diameter"]), 6)
        for hole in _holes(event):
            if _meets(hole, piece.solid):
                deep, spot = _depth(hole, piece.solid, face), _spot(hole, piece.solid, face, wide)
                found.append(_Hole(event.at.step, wide, deep, face, hole, spot))
    return found


def _spot(hole: Solid, solid: Solid, face: str, wide: float) -> Spot | None:
    """Where a hole lies on a piece in whose wood it is round all about."""
    if face not in FACE_FRAMES:
        return None
    axis, within = _axis(face), hole.meet(solid)
    across = [a for a in range(3) if a != axis]
    if any(abs(within.extent[a] - wide) > NEAR for a in across):
        return None
    right, up = (within.middle[a] - solid.bounds[0][a] for a in across)
    return axis, (right, up)


def _depth(hole: Solid, solid: Solid, face: str) -> float:
    """How far a hole that is bored from a face runs in the wood of a piece, mm, to a hundredth; 0 if through it."""
    if face not in FACE_FRAMES:
        return 0.0
    axis = _axis(face)
    (low, high), (bottom, top) = hole.meet(solid).bounds, solid.bounds
    through = low[axis] < bottom[axis] + NEAR and high[axis] > top[axis] - NEAR
    return 0.0 if through else round(high[axis] - low[axis], 2)


def _axis(face: str) -> int:
    """The axis along which a hole is bored from a face: 0 x, 1 y, 2 z."""
    return max(range(3), key=lambda a: abs(FACE_FRAMES[face].n[a]))


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
        axis = _axis(told["face"])
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
