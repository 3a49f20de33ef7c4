"""The finished object opened: drawers drawn out and lids swung, as its fits tell; it measures nothing."""

from collections.abc import Sequence

from planbook.solids.frames import times
from planbook.workshop.pieces import moved, turned
from planbook.workshop.timeline import Fitted, Piece, Way

DRAWN = 0.7
"""The share of its way by which a piece that slides is drawn out: so it is still held."""
TOUCH = 1.0
"""Pieces that share less wood than this, mm3, do not run into one another."""


def opened(pieces: Sequence[Piece], fits: Sequence[Fitted]) -> dict[str, Piece]:
    """The pieces that move, where they are when all is open, by name; fits of earlier stages of the work do not count.

    A piece that would run into one that is open already stays shut.
    """
    ways: dict[str, tuple[Way, float]] = {}
    for fit in fits:
        if fit.way is not None and fit.before is None:
            ways.setdefault(fit.way.piece, (fit.way, DRAWN if fit.kind == "slide" else 1.0))
    found: dict[str, Piece] = {}
    for piece in pieces:
        if piece.name in ways:
            there = _moved(piece, *ways[piece.name])
            if all(there.solid.meet(other.solid).volume < TOUCH for other in found.values()):
                found[piece.name] = there
    return found


def _moved(piece: Piece, way: Way, share: float) -> Piece:
    if way.axis is None:
        return moved(piece, times(way.by, share))
    return turned(piece, way.axis, way.degrees * share, way.about)
