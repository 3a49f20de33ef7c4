"""What a screw joins comes apart along it, if it can, so that the screw is seen to go through both; draws nothing."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.workshop.placing import out_by, seen_from
from planbook.workshop.pushing import pushes
from planbook.workshop.spots import ABOVE
from planbook.workshop.timeline import Cue, Show, Shown
from planbook.workshop.ways_out import is_free

AROUND = 8.0
"""So far about the axis of a screw is looked for the wood that it goes through, beyond its own hole there, mm."""
LENGTH = 120.0
"""A screw goes through no more wood than this, mm."""
LIES = 0.5
"""Wood that lies on the piece is no farther from it than this, mm."""


def way_out(cues: Sequence[Cue]) -> Vec3 | None:
    """The axis along which screws come out of the wood, by the lines of their holes; None without any."""
    way = next((plus(c.points[0], negated(c.points[-1])) for c in cues if c.kind == "drill axis"), None)
    if way is None:
        return None
    axis = max(AXES.values(), key=lambda axis: abs(dot(axis, way)))
    return axis if dot(axis, way) > 0 else negated(axis)


def in_line(out: Vec3, move: Vec3) -> bool:
    """Whether a move leads along an axis, one way or the other, or nowhere."""
    return dot(move, move) - dot(move, out) ** 2 < LIES**2


def covers(rim: Vec3, out: Vec3, solids: Sequence[Solid]) -> list[tuple[float, int]]:
    """How thick the wood is that lies on a spot of a piece, mm, and which of the solids it is."""
    across = [axis for axis in AXES.values() if abs(dot(axis, out)) < LIES]
    found = []
    for (one, two), (n, solid) in product(product((-AROUND, AROUND), repeat=2), enumerate(solids)):
        start = plus(rim, plus(plus(times(across[0], one), times(across[1], two)), times(out, -LIES)))
        walls = [(far - LIES, dot(normal, out)) for far, normal in solid.walls(start, plus(start, times(out, LENGTH)))]
        inside = [far for far, way in walls if way > 0]
        if inside and (walls[0][1] > 0 or walls[0][0] < LIES):
            found.append((inside[0], n))
    return found


def drawn_in_line(show: Show, screws: Sequence[Cue]) -> Show:
    """The picture of two pieces, of which one was drawn off the other, drawn apart along the screws that join them.

    As it is where that piece is not free on this way, or where another one is drawn apart as well.
    """
    moved = [s for s in show.pieces if any(s.apart)]
    joined = _joined(show.pieces, screws)
    if joined is None or len(moved) != 1 or any(c.kind != "push" and c.piece == moved[0].piece.name for c in show.cues):
        return show
    own, cover, out = joined
    mover, body, way = (cover, own, out) if moved[0] is cover else (own, cover, negated(out))
    still = [s.piece.solid for s in show.pieces if s is not mover]
    if mover is not moved[0] or in_line(out, mover.apart) or not is_free(mover.piece.solid, still, way):
        return show
    apart = times(way, out_by(mover.piece, body.piece, way, 0.0))
    pieces = tuple(replace(s, apart=apart) if s is mover else s for s in show.pieces)
    others = tuple(cue for cue in show.cues if cue.kind != "push")
    pushed = pushes(pieces) if len(others) < len(show.cues) else ()
    return Show(seen_from(pieces), pieces, (*others, *pushed))


def _joined(pieces: Sequence[Shown], screws: Sequence[Cue]) -> tuple[Shown, Shown, Vec3] | None:
    """The piece that the first screw holds in, what it goes through to there, and the way it comes out."""
    for cue in screws:
        out = way_out([cue])
        if out is not None:
            own = next(s for s in pieces if s.piece.name == cue.piece)
            others = [s for s in pieces if s is not own]
            rim = plus(cue.points[0], times(out, -ABOVE))
            thick = max(covers(rim, out, [s.piece.solid for s in others]), default=None)
            if thick is not None:
                return own, others[thick[1]], out
    return None
