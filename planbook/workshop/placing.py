"""Putting pieces where they belong in the object, without glue; knows no operation."""

import math
from collections.abc import Container, Mapping, Sequence
from fractions import Fraction

from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop.pieces import moved
from planbook.workshop.shop import Shop
from planbook.workshop.snags import Snag, snag
from planbook.workshop.timeline import Piece, Shown, Trouble

Moves = Mapping[str, tuple[Fraction, Fraction, Fraction]]
TOUCHING = 1.0
"""Pieces that share less wood than this (mm3) only touch."""
LAYER = 4
"""So many pieces between the same two planes are one layer."""
SPREAD = 0.16
"""How far the pieces of a layer move apart, as a share of their distance."""
BACK: Vec3 = (0.0, 1.0, 0.0)
OUT_OF_SIGHT = (BACK, (0.0, 0.0, -1.0))
"""The sides that are seldom seen."""
DETOUR = 0.2
"""A way to another side is preferred that is longer by this share of the largest side of what stays."""
SHOWN = 0.08
"""A piece comes out by at least this share of that side, so that it is seen to have come out."""
LOOKS, MOST_LOOKS = 6, 40
"""At how many places on its way out a piece is tried for room."""
RUB = 1e-3
"""Share of a piece's volume that may overlap another on the way and still count as sliding along it."""


def placed(
    pieces: Sequence[Piece], moves: Moves | None, listed: Place, moved_at: Place, shop: Shop
) -> tuple[Piece, ...]:
    """The pieces after their moves. Raises Snag where two are in each other's way."""
    names = tuple(p.name for p in pieces)
    strangers = [name for name in moves or {} if name not in names]
    if strangers:
        raise snag("move-of-another", moved_at, shop.at.step, piece=strangers[0], pieces=names)
    made = tuple(_moved(p, (moves or {}).get(p.name)) for p in pieces)
    troubles = _in_the_way(made, listed, shop)
    if troubles:
        raise Snag(*troubles)
    return made


def _moved(piece: Piece, by: tuple[Fraction, Fraction, Fraction] | None) -> Piece:
    return piece if by is None else moved(piece, (float(by[0]), float(by[1]), float(by[2])))


def _in_the_way(pieces: Sequence[Piece], place: Place, shop: Shop) -> list[Trouble]:
    found = []
    for i, first in enumerate(pieces):
        for second in pieces[i + 1 :]:
            shared = first.solid.meet(second.solid)
            if shared.volume > TOUCHING:
                facts = {
                    "first": first.name,
                    "second": second.name,
                    "volume": shared.volume,
                    "extent": shared.extent,
                    "where": shared.middle,
                }
                found.append(Trouble("pieces-overlap", place, shop.at.step, facts))
    return found


def drawn_out(pieces: Sequence[Piece], staying: Container[str] = ()) -> tuple[Shown, ...]:
    """The largest piece stays, and what is in place already; each other comes out on the nearest side that is free.

    What lies beyond one side of the largest moves off that way together. Pieces that lie side by side in one layer,
    as those of a puzzle do, move away from one another in it instead.
    """
    body = max(pieces, key=lambda p: p.solid.volume)
    layer = _layer(pieces, body)
    moving = [p for p in pieces if p is not body and p.name not in staying]
    still = [p.solid for p in pieces if p not in moving]
    return tuple(
        Shown(p, "worked", _apart(p, body, moving, layer, still) if p in moving else (0.0, 0.0, 0.0)) for p in pieces
    )


def seen_from(shown: Sequence[Shown]) -> str:
    """The face that a picture of pieces drawn out has to show so that they are seen; "" where any view will do."""
    out = [s.apart for s in shown if any(s.apart)]
    return "back" if out and all(apart == times(BACK, dot(apart, BACK)) and apart[1] > 0 for apart in out) else ""


def _layer(pieces: Sequence[Piece], body: Piece) -> tuple[Piece, ...]:
    """Those of the pieces, `body` perhaps among them, that lie between the same two planes; few are no layer."""
    for axis in range(3):
        for flat in ([p for p in pieces if p is not body], pieces):
            faces = {(round(p.solid.bounds[0][axis], 3), round(p.solid.bounds[1][axis], 3)) for p in flat}
            if len(flat) >= LAYER and len(faces) == 1:
                return (*flat, body) if body.solid.bounds[0][axis] == flat[0].solid.bounds[0][axis] else tuple(flat)
    return ()


def _apart(piece: Piece, body: Piece, moving: Sequence[Piece], layer: Sequence[Piece], still: Sequence[Solid]) -> Vec3:
    if not layer:
        way = _beyond(piece, body)
        return _way_out(piece, body, still) if way is None else times(way, _clear(moving, body, way))
    low = [min(p.solid.bounds[0][i] for p in layer) for i in range(3)]
    high = [max(p.solid.bounds[1][i] for p in layer) for i in range(3)]
    # The spot of the layer next to the piece that stays: what lies there hardly moves, what lies far moves most.
    x, y, z = (
        SPREAD * (piece.solid.middle[i] - min(max(body.solid.middle[i], low[i]), high[i]))
        if high[i] - low[i] > min(piece.solid.extent) + 1
        else 0.0
        for i in range(3)
    )
    return (x, y, z)


def _beyond(piece: Piece, body: Piece) -> Vec3 | None:
    """The way from a body to a piece most of which lies beyond one of its sides."""
    (low, high), middle = body.solid.bounds, piece.solid.middle
    for axis, unit in enumerate(AXES.values()):
        if middle[axis] > high[axis] or middle[axis] < low[axis]:
            return unit if middle[axis] > high[axis] else negated(unit)
    return None


def _clear(pieces: Sequence[Piece], body: Piece, way: Vec3) -> float:
    """How far those pieces go together that lie beyond a body on one side, until they are well clear of it, mm."""
    deep = max(body.solid.reach(way) + p.solid.reach(negated(way)) for p in pieces if _beyond(p, body) == way)
    return max(0.0, deep) + SPREAD * max(body.solid.extent) + 8


def _way_out(piece: Piece, body: Piece, still: Sequence[Solid]) -> Vec3:
    """How far a piece comes out, mm, on its way."""
    large = max(body.solid.extent)
    way, room = free_way(piece, body, still)
    deep = sum(abs(w) * e for w, e in zip(way, piece.solid.extent, strict=True))
    return times(way, max(0.0, room) + max(0.75 * deep + 8, SHOWN * large))


def free_way(piece: Piece, body: Piece, still: Sequence[Solid]) -> tuple[Vec3, float]:
    """The shortest way on which a piece is free, rather to the front, side or top; and how far it is to that side, mm.

    Where it is free nowhere, the shortest.
    """
    large = max(body.solid.extent)
    (lo, hi), (blo, bhi) = piece.solid.bounds, body.solid.bounds
    rooms = {
        (0.0, -1.0, 0.0): lo[1] - blo[1],
        (1.0, 0.0, 0.0): bhi[0] - hi[0],
        (0.0, 0.0, 1.0): bhi[2] - hi[2],
        (-1.0, 0.0, 0.0): lo[0] - blo[0],
        (0.0, 1.0, 0.0): bhi[1] - hi[1],
        (0.0, 0.0, -1.0): lo[2] - blo[2],
    }
    ways = sorted(rooms, key=lambda way: rooms[way] + DETOUR * large * (way in OUT_OF_SIGHT))
    way = next((way for way in ways if _free(piece.solid, still, way)), ways[0])
    return way, rooms[way]


def _free(solid: Solid, still: Sequence[Solid], way: Vec3) -> bool:
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
    return not any(_overlap(solid, other, by, least) for by in moves for other in near)


def _overlap(solid: Solid, other: Solid, by: Vec3, least: float) -> bool:
    """Whether a solid that was moved shares more than so much wood (mm3) with another."""
    (low, high), (below, above) = solid.bounds, other.bounds
    low, high = plus(low, by), plus(high, by)
    common = [max(0.0, min(high[a], above[a]) - max(low[a], below[a])) for a in range(3)]
    return math.prod(common) > least and solid.moved(by).meet(other).volume > least
