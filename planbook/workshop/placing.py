"""Putting pieces where they belong in the object, without glue; knows no operation."""

from collections.abc import Container, Mapping, Sequence
from fractions import Fraction

from planbook.solids import AXES, Vec3
from planbook.solids.frames import negated, times
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
    """The largest piece stays, and what is in place already; each other comes out on the side nearest to it.

    What lies beyond one side of the largest moves off that way together. Pieces that lie side by side in one layer,
    as those of a puzzle do, move away from one another in it instead.
    """
    body = max(pieces, key=lambda p: p.solid.volume)
    layer = _layer(pieces, body)
    moving = [p for p in pieces if p is not body and p.name not in staying]
    return tuple(Shown(p, "worked", _apart(p, body, moving, layer) if p in moving else (0.0, 0.0, 0.0)) for p in pieces)


def _layer(pieces: Sequence[Piece], body: Piece) -> tuple[Piece, ...]:
    """Those of the pieces, `body` perhaps among them, that lie between the same two planes; few are no layer."""
    for axis in range(3):
        for flat in ([p for p in pieces if p is not body], pieces):
            faces = {(round(p.solid.bounds[0][axis], 3), round(p.solid.bounds[1][axis], 3)) for p in flat}
            if len(flat) >= LAYER and len(faces) == 1:
                return (*flat, body) if body.solid.bounds[0][axis] == flat[0].solid.bounds[0][axis] else tuple(flat)
    return ()


def _apart(piece: Piece, body: Piece, moving: Sequence[Piece], layer: Sequence[Piece]) -> Vec3:
    if not layer:
        way = _beyond(piece, body)
        return _way_out(piece, body) if way is None else times(way, _clear(moving, body, way))
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


def _way_out(piece: Piece, body: Piece) -> Vec3:
    (lo, hi), (blo, bhi) = piece.solid.bounds, body.solid.bounds
    rooms = {
        (0.0, -1.0, 0.0): lo[1] - blo[1],
        (1.0, 0.0, 0.0): bhi[0] - hi[0],
        (0.0, 0.0, 1.0): bhi[2] - hi[2],
        (-1.0, 0.0, 0.0): lo[0] - blo[0],
    }
    way = min(rooms, key=lambda k: rooms[k])
    far = max(0.0, rooms[way]) + 0.75 * sum(abs(w) * e for w, e in zip(way, piece.solid.extent, strict=True)) + 8
    return (way[0] * far, way[1] * far, way[2] * far)
