"""Points on two faces that meet: where holes of one piece come to lie on the other; it bores nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import dist

from planbook.solids import OPPOSITE, Frame
from planbook.solids.frames import plus
from planbook.text import Place
from planbook.workshop.fields import Moves
from planbook.workshop.pieces import face_frame, moved
from planbook.workshop.shop import Shop
from planbook.workshop.snags import Snag, snag
from planbook.workshop.spots import Spot
from planbook.workshop.timeline import Piece, Trouble

CLOSE = 0.05
"""Holes further (mm) from one another than this do not take the same dowel."""


@dataclass(frozen=True, slots=True)
class Side:
    """One piece of a pair: the frame of its face as it lies now, and the points in it by name."""

    piece: Piece
    frame: Frame
    spots: Mapping[str, Spot]


def paired(
    one: Piece,
    two: Piece,
    face: str,
    origin: str,
    at: Sequence[tuple[Fraction, Fraction]],
    moves: Moves | None,
) -> tuple[Side, Side]:
    """The points on the face of one piece, and those that meet them on the opposite face of the other."""
    frame = face_frame(_put(one, moves), face, origin)
    other = face_frame(_put(two, moves), OPPOSITE[face], origin)
    spots = {f"hole {i}": (float(u), float(v)) for i, (u, v) in enumerate(at, 1)}
    met = {name: other.local(frame.world(*spot))[:2] for name, spot in spots.items()}
    return Side(one, _home(one, frame, moves), spots), Side(two, _home(two, other, moves), met)


def check_meeting(
    first: Side, second: Side, given: Sequence[tuple[Fraction, Fraction]], place: Place, shop: Shop
) -> None:
    """Raise Snag where points marked on the second piece do not lie on those of the first."""
    if len(given) != len(second.spots):
        raise snag("pairs-differ", place, shop.at.step, points=len(second.spots), others=len(given))
    troubles = []
    for (name, wanted), (u, v) in zip(second.spots.items(), given, strict=True):
        far = dist(wanted, (float(u), float(v)))
        if far > CLOSE:
            facts = {"first": first.piece.name, "second": second.piece.name, "hole": name, "far": far, "at": wanted}
            troubles.append(Trouble("holes-do-not-meet", place, shop.at.step, facts))
    if troubles:
        raise Snag(*troubles)


def _put(piece: Piece, moves: Moves | None) -> Piece:
    """The piece where it lies when the joint is closed."""
    by = (moves or {}).get(piece.name)
    return piece if by is None else moved(piece, (float(by[0]), float(by[1]), float(by[2])))


def _home(piece: Piece, frame: Frame, moves: Moves | None) -> Frame:
    """A frame of the closed joint, back where the piece lies now."""
    x, y, z = (-float(c) for c in (moves or {}).get(piece.name, (0, 0, 0)))
    return frame.at(plus(frame.origin, (x, y, z)))
