"""On which ways pieces come free of a body that stays, and in which order they do; it moves nothing.

How a whole object falls into its pieces, of which none stays, is another question: that of the exploded view.
"""

import math
from collections.abc import Sequence

from planbook.solids import Solid, Vec3
from planbook.solids.frames import negated, plus, times
from planbook.solids.solid import block
from planbook.workshop.timeline import Piece

OUT_OF_SIGHT: tuple[Vec3, ...] = ((0.0, 1.0, 0.0), (0.0, 0.0, -1.0))
"""The sides that are seldom seen."""
DETOUR = 0.2
"""A way to another side is preferred that is longer by this share of the largest side of what stays."""
LOOKS, MOST_LOOKS = 6, 40
"""At how many places on its way out a piece is tried for room."""
TOUCHING = 1.0
"""Pieces that share less wood than this (mm3) only touch."""
RUB = 1e-3
"""Share of a piece's volume that may overlap another on the way and still count as sliding along it."""

Out = tuple[Piece, Vec3, float]
"""A piece, the unit vector of its way out, and how far it is to that side of the body, mm."""


def in_turn(pieces: Sequence[Piece], body: Piece, still: Sequence[Solid]) -> tuple[Out, ...]:
    """The pieces in the order in which they come out of a body, past all that stays and past those not yet out.

    One whose own way is free goes before one that would have to take another; what is locked goes last, as if it
    were not.
    """
    left, found = list(pieces), list[Out]()
    own = {p.name: free_way(p, body, still) for p in pieces} if len(left) > 1 else {}
    while len(left) > 1:
        others = {p.name: [*still, *(k.solid for k in left if k is not p)] for p in left}
        tried = [*((p, *own[p.name]) for p in left), *((p, *way) for p in left for way in ways(p, body))]
        free = (out for out in tried if is_free(out[0].solid, others[out[0].name], out[1]))
        found.append(next(free, tried[0]))
        left.remove(found[-1][0])
    return (*found, *((p, *free_way(p, body, still)) for p in left))


def locked(pieces: Sequence[Piece]) -> frozenset[str]:
    """The names of the pieces that come out of the largest on no way, past it and past what does not come out either.

    What is held by such a one alone is held as well.
    """
    body = max(pieces, key=lambda p: p.solid.volume)
    left, held = [p for p in pieces if p is not body], [body]
    while stuck := [p for p in left if not _comes_out(p, body, [h.solid for h in held])]:
        held += stuck
        left = [p for p in left if p not in stuck]
    return frozenset(p.name for p in held if p is not body)


def _comes_out(piece: Piece, body: Piece, still: Sequence[Solid]) -> bool:
    return is_free(piece.solid, still, free_way(piece, body, still)[0])


def free_way(piece: Piece, body: Piece, still: Sequence[Solid]) -> tuple[Vec3, float]:
    """The shortest way on which a piece is free, rather to the front, side or top; and how far it is to that side, mm.

    Where it is free nowhere, the shortest.
    """
    tried = ways(piece, body)
    return next((way for way in tried if is_free(piece.solid, still, way[0])), tried[0])


def ways(piece: Piece, body: Piece) -> list[tuple[Vec3, float]]:
    """All ways of a piece and how far it is to that side of the body, mm, the best first."""
    large = max(body.solid.extent)
    (lo, hi), (blo, bhi) = piece.solid.bounds, body.solid.bounds
    rooms: dict[Vec3, float] = {
        (0.0, -1.0, 0.0): lo[1] - blo[1],
        (1.0, 0.0, 0.0): bhi[0] - hi[0],
        (0.0, 0.0, 1.0): bhi[2] - hi[2],
        (-1.0, 0.0, 0.0): lo[0] - blo[0],
        (0.0, 1.0, 0.0): bhi[1] - hi[1],
        (0.0, 0.0, -1.0): lo[2] - blo[2],
    }
    return sorted(rooms.items(), key=lambda way: way[1] + DETOUR * large * (way[0] in OUT_OF_SIGHT))


def is_free(solid: Solid, still: Sequence[Solid], way: Vec3) -> bool:
    """Whether a solid can be drawn out past all that stays; looked at so often that it jumps over no wall."""
    far = solid.reach(negated(way)) + max(other.reach(way) for other in still)
    deep = solid.reach(negated(way)) + solid.reach(way)
    stops = max(LOOKS, min(MOST_LOOKS, math.ceil(far / max(deep, TOUCHING))))
    least = max(TOUCHING, RUB * solid.volume)
    (low, high), along = solid.bounds, times(way, far)
    room = block(
        plus(low, (min(along[0], 0.0), min(along[1], 0.0), min(along[2], 0.0))),
        plus(high, (max(along[0], 0.0), max(along[1], 0.0), max(along[2], 0.0))),
    )
    near = [part for other in still if (part := other.meet(room)).volume > least]
    moves = (times(way, far * (stop + 0.5) / stops) for stop in range(stops))
    return not any(overlap(solid, other, by, least) for by in moves for other in near)


def overlap(solid: Solid, other: Solid, by: Vec3, least: float) -> bool:
    """Whether a solid that was moved (mm) shares more than so much wood (mm3) with another; boxes are asked first."""
    (low, high), (below, above) = solid.bounds, other.bounds
    low, high = plus(low, by), plus(high, by)
    common = [max(0.0, min(high[a], above[a]) - max(low[a], below[a])) for a in range(3)]
    return math.prod(common) > least and solid.moved(by).meet(other).volume > least
