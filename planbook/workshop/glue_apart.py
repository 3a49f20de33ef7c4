"""How pieces that are glued are drawn apart: so far that a reader sees where glue goes; knows no operation."""

from collections.abc import Sequence

from planbook.solids import FACE_FRAMES, Frame, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.workshop.mating import Contact, contacts
from planbook.workshop.timeline import Piece, Shown

AHEAD = {"x": "right", "y": "back", "z": "top"}
"""The face to which each axis points."""
USUAL, LEAST, MOST = 0.16, 8.0, 0.3
"""Air between layers as a share of the longest side: the usual, no less than so many mm, and the most."""
MOST_WIDER = 2.0
"""Where several pieces lie level, there is so much more room for the air between layers at most."""
ASIDE = 0.5
"""How far what touches a level piece without a face across another axis is drawn back, as a share of that air."""
SEEN = 1 / 3
"""If more air shows this share of the faces that are glued, there is more."""
LEVEL = 0.5
"""Middles that differ by less than this share of the shorter piece are level."""
TOUCH = 0.5
"""Boxes so near to one another, mm, touch."""


def glued_apart(pieces: Sequence[Piece], axis: str) -> tuple[Shown, ...]:
    """Pieces spread evenly along an axis, the middle staying; those that lie level stay beside one another.

    A smaller one that touches another of these is drawn straight off it, so that the joint is seen.
    """
    frame = FACE_FRAMES[AHEAD[axis]]
    layers = _layers(pieces, frame.n)
    wider = min(MOST_WIDER, (len(pieces) - 1) / max(1, len(layers) - 1))
    step = _air([piece.solid for piece in pieces], frame) * wider
    far = dict[int, Vec3]()
    for n, layer in enumerate(layers):
        for k, piece in enumerate(layer):
            larger = [each.solid for each in layer[:k] if _touching(piece.solid, each.solid)]
            off = _off(piece.solid, larger, axis, frame.n) if larger else (0.0, 0.0, 0.0)
            far[id(piece)] = times(plus(times(frame.n, n - (len(layers) - 1) / 2), off), step)
    return tuple(Shown(piece, "worked", far[id(piece)]) for piece in pieces)


def _off(solid: Solid, others: Sequence[Solid], axis: str, way: Vec3) -> Vec3:
    """The way off what a piece touches, as a share of the air: straight off the largest face that they have in common
    across another axis, as far as layers go; without one it is back along the axis of the clamps.
    """
    best: tuple[float, Vec3] = (0.0, times(way, -ASIDE))
    for frame in (FACE_FRAMES[face] for each, face in AHEAD.items() if each != axis):
        for met in contacts([solid, *others], frame):
            if 0 in (met.below, met.above) and met.area.size > best[0]:
                best = met.area.size, negated(frame.n) if met.below == 0 else frame.n
    return best[1]


def _layers(pieces: Sequence[Piece], way: Vec3) -> list[list[Piece]]:
    """The pieces in their order along an axis, those that are level together, the largest first."""
    layers: list[list[Piece]] = []
    for piece in sorted(pieces, key=lambda p: (round(dot(p.solid.middle, way), 1), -p.solid.volume)):
        if layers and all(_level(piece.solid, other.solid, way) for other in layers[-1]):
            layers[-1].append(piece)
        else:
            layers.append([piece])
    return layers


def _level(one: Solid, two: Solid, way: Vec3) -> bool:
    deep = [solid.reach(way) + solid.reach(negated(way)) for solid in (one, two)]
    return abs(dot(one.middle, way) - dot(two.middle, way)) < LEVEL * min(deep)


def _touching(one: Solid, two: Solid) -> bool:
    (low, high), (below, above) = one.bounds, two.bounds
    return all(a < d + TOUCH and c < b + TOUCH for a, b, c, d in zip(low, high, below, above, strict=True))


def _air(solids: Sequence[Solid], frame: Frame) -> float:
    """How far apart layers are drawn, mm, for a reader in front of them, to their right and above."""
    size = max(max(solid.extent) for solid in solids)
    usual = max(LEAST, USUAL * size)
    parts = [each for met in contacts(solids, frame) for each in _hidden(solids, met, frame)]
    whole, shown = sum(area for _, area in parts), 0.0
    for need, area in sorted(parts):
        shown += area
        if shown > SEEN * whole:
            return max(usual, need) if need < MOST * size else usual
    return usual


def _hidden(solids: Sequence[Solid], met: Contact, frame: Frame) -> list[tuple[float, float]]:
    """Of each part of a joint, how far the piece before it must go until all of the part is seen, and its area.

    In an isometric view a point is seen past an edge that is as far out as it is away.
    """
    upward = frame.n[2] > 0
    before = solids[met.below if frame.n[1] > 0 else met.above]
    found = []
    for part in met.area.parts:
        left, low, right, high = part.bounds
        if upward:
            need = min(before.reach(frame.u) - left, high + before.reach(negated(frame.v)))
        else:
            need = min(right + before.reach(negated(frame.u)), before.reach(frame.v) - low)
        found.append((need, part.size))
    return found
