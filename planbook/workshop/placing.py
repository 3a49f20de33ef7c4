"""Putting pieces where they belong in the object, without glue; knows no operation."""

from collections.abc import Container, Mapping, Sequence
from fractions import Fraction

from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.text import Place
from planbook.workshop.pieces import moved
from planbook.workshop.shop import Shop
from planbook.workshop.snags import Snag, snag
from planbook.workshop.timeline import Piece, Shown, Trouble
from planbook.workshop.ways_out import TOUCHING, in_turn

Moves = Mapping[str, tuple[Fraction, Fraction, Fraction]]
LAYER = 4
"""So many pieces between the same two planes are one layer."""
SPREAD = 0.16
"""How far the pieces of a layer move apart, as a share of their distance."""
BACK: Vec3 = (0.0, 1.0, 0.0)
BESIDE = 2.0
"""Pieces that are no farther from one another touch, mm."""
APART = 8.0
"""Between pieces that come out the same way one behind the other, mm."""
Box = tuple[Vec3, Vec3]
"""Lower and upper corner, mm."""
OUT, CLEAR = 0.75, 1.0
"""A piece comes out by this share of its depth, a little of it still in its place; and if it is to be clear of all."""
SHOWN = 0.08
"""A piece comes out by at least this share of the largest side of what stays, so that it is seen to have come out."""


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


def drawn_out(
    pieces: Sequence[Piece], parts: Container[str] = (), held: Container[str] = (), share: float = OUT
) -> tuple[Shown, ...]:
    """What is in place already stays, or else the largest; each other comes out on the nearest side that is free.

    `parts` are in place in the object, `held` what cannot come out; the others come out by a `share` of their depth.

    What lies beyond one side of the largest of those that stay moves off that way together. Pieces that lie side by
    side in one layer, as those of a puzzle do, move away from one another in it instead.
    """
    body = max([p for p in pieces if p.name in parts] or pieces, key=lambda p: p.solid.volume)
    layer = layer_of(pieces, body)
    moving = [p for p in pieces if p is not body and p.name not in parts and p.name not in held]
    if layer:
        apart = {p.name: _spread(p, body, layer) for p in moving}
    else:
        apart = _moved_out(moving, body, [p.solid for p in pieces if p not in moving], share)
    return tuple(Shown(p, "worked", apart.get(p.name, (0.0, 0.0, 0.0))) for p in pieces)


def seen_from(shown: Sequence[Shown]) -> str:
    """The face that a picture of pieces drawn out has to show so that they are seen; "" where any view will do."""
    out = [s.apart for s in shown if any(s.apart)]
    return "back" if out and all(apart == times(BACK, dot(apart, BACK)) and apart[1] > 0 for apart in out) else ""


def layer_of(pieces: Sequence[Piece], body: Piece) -> tuple[Piece, ...]:
    """Those of the pieces, `body` perhaps among them, that lie between the same two planes; few are no layer."""
    for axis in range(3):
        for flat in ([p for p in pieces if p is not body], pieces):
            faces = {(round(p.solid.bounds[0][axis], 3), round(p.solid.bounds[1][axis], 3)) for p in flat}
            if len(flat) >= LAYER and len(faces) == 1:
                return (*flat, body) if body.solid.bounds[0][axis] == flat[0].solid.bounds[0][axis] else tuple(flat)
    return ()


def _spread(piece: Piece, body: Piece, layer: Sequence[Piece]) -> Vec3:
    """How far a piece of a layer moves away from the others, mm."""
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


def _moved_out(moving: Sequence[Piece], body: Piece, still: Sequence[Solid], share: float) -> dict[str, Vec3]:
    """How far each piece moves, mm: what lies beyond a side of the body with all that does, the others one by one.

    Each goes past what comes out the same way after it.
    """
    lie = {p.name: way for p in moving if (way := _beyond(p, body)) is not None}
    beyond = {
        name: way for name, way in lie.items() if name in _reached(body, [p for p in moving if lie.get(p.name) == way])
    }
    aside = [p.solid for p in moving if p.name in lie and p.name not in beyond]
    inner = in_turn([p for p in moving if p.name not in lie], body, [*still, *aside])
    laid: list[tuple[Box, Vec3]] = []
    found: dict[str, Vec3] = {}
    for piece, way, room in reversed(inner):
        found[piece.name] = times(way, max([out_by(piece, body, way, room, share), *_past(piece, way, laid)]))
        laid.append((_box(piece, found[piece.name]), way))
    for way in dict.fromkeys(beyond.values()):
        group = [p for p in moving if beyond.get(p.name) == way]
        far = max([_clear(moving, body, way), *(f for p in group for f in _past(p, way, laid))])
        found |= {p.name: times(way, far) for p in group}
    return found


def out_by(piece: Piece, body: Piece, way: Vec3, room: float, share: float = OUT) -> float:
    """How far a piece comes out of a body on a way, on which its side is so far (`room`), mm."""
    deep = sum(abs(w) * e for w, e in zip(way, piece.solid.extent, strict=True))
    return max(0.0, room) + max(share * deep + 8, SHOWN * max(body.solid.extent))


def _reached(body: Piece, pieces: Sequence[Piece]) -> set[str]:
    """Those that touch a body, or touch what does. Others are held by what comes off on another side, and stay."""
    group, left = [body], list(pieces)
    for one in group:
        near = [p for p in left if one.solid.gap(p.solid, BESIDE) < BESIDE]
        group += near
        left = [p for p in left if p not in near]
    return {p.name for p in group}


def _past(piece: Piece, way: Vec3, laid: Sequence[tuple[Box, Vec3]]) -> list[float]:
    """How far a piece goes to be past each of those boxes that came out the same way and lie on its own, mm."""
    axis = next(k for k in range(3) if way[k])
    low, high = piece.solid.bounds
    return [
        (above[axis] - low[axis] if way[axis] > 0 else high[axis] - below[axis]) + APART
        for (below, above), other in laid
        if other == way and all(below[k] < high[k] and low[k] < above[k] for k in range(3) if k != axis)
    ]


def _box(piece: Piece, by: Vec3) -> Box:
    low, high = piece.solid.bounds
    return (plus(low, by), plus(high, by))
