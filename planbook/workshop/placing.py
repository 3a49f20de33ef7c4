"""Putting pieces where they belong in the object, without glue; knows no operation."""

from collections.abc import Container, Mapping, Sequence
from fractions import Fraction

from planbook.text import Place
from planbook.workshop.pieces import moved
from planbook.workshop.shop import Shop
from planbook.workshop.snags import Snag, snag
from planbook.workshop.timeline import Piece, Shown, Trouble

Moves = Mapping[str, tuple[Fraction, Fraction, Fraction]]
TOUCHING = 1.0
"""Pieces that share less wood than this (mm3) only touch."""


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
    """The largest piece stays, and what is in place already; each other comes out on the side nearest to it."""
    body = max(pieces, key=lambda p: p.solid.volume)
    return tuple(
        Shown(p, "worked", (0.0, 0.0, 0.0) if p is body or p.name in staying else _way_out(p, body)) for p in pieces
    )


def _way_out(piece: Piece, body: Piece) -> tuple[float, float, float]:
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
