"""Glued joints as the grain sees them: which woods meet, how their grain runs, how wide; it judges no joint."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from planbook.handbook import wood
from planbook.review.cuts import events_of, setting
from planbook.solids import AXES, Vec3
from planbook.solids.frames import dot, negated
from planbook.workshop import Event, Member, Piece, Timeline

ALONG = 0.7072
"""Cosine of 45 degrees: a direction closer to the grain than this goes along it."""


def one_way(piece: Piece) -> bool:
    """Whether all the wood of a piece is solid and has its grain running one way: no sheet, nothing crossed."""
    rows = [wood(member.wood) for member in piece.members]
    return len({member.grain for member in piece.members}) == 1 and all(row and row.group != "sheet" for row in rows)


@dataclass(frozen=True, eq=False, slots=True)
class Joint:
    """Two pieces that are glued face to face along an axis, with the woods that meet there."""

    event: Event
    axis: Vec3
    pieces: tuple[Piece, Piece]
    members: tuple[Member, Member]

    @property
    def solid_wood(self) -> bool:
        """Whether neither side is a sheet material."""
        rows = (wood(member.wood) for member in self.members)
        return all(row is not None and row.group != "sheet" for row in rows)

    def ends(self) -> tuple[bool, bool]:
        """Which sides show their end grain to the joint."""
        one, two = (abs(dot(member.grain, self.axis)) > ALONG for member in self.members)
        return one, two

    def crossed(self) -> bool:
        """Whether the grain of one side runs across that of the other, both in the joint."""
        return not any(self.ends()) and abs(dot(self.members[0].grain, self.members[1].grain)) < ALONG

    def across(self, side: int) -> float:
        """How wide the two meet across the grain of one side, in the joint, mm."""
        grain = self.members[side].grain
        axes = [k for k in range(3) if abs(self.axis[k]) < 0.5 and abs(grain[k]) < ALONG]
        return max((self._shared(k) for k in axes), default=0.0)

    def _shared(self, k: int) -> float:
        (one_lo, one_hi), (two_lo, two_hi) = (piece.solid.bounds for piece in self.pieces)
        return max(0.0, min(one_hi[k], two_hi[k]) - max(one_lo[k], two_lo[k]))

    def swells(self, side: int, points: float) -> float | None:
        """How much one side would swell across the joint over a number of points of moisture content, mm.

        Wood Handbook (2010) Eq. 13-2 with the tangential coefficient; None for woods without one.
        """
        row = wood(self.members[side].wood)
        rate = row.coefficient_tangential if row else None
        return None if rate is None else self.across(side) * rate * points


def joints(timeline: Timeline) -> Iterator[Joint]:
    """Every face to face joint of the blocks that glue pieces along an axis."""
    for event in events_of(timeline, "glue", "glue up"):
        axis = AXES.get(setting(event, "along", ""))
        if axis is None:
            continue
        ordered = sorted(event.taken, key=lambda piece: dot(piece.solid.middle, axis))
        for one, two in pairwise(ordered):
            members = (_outermost(one, axis), _outermost(two, negated(axis)))
            yield Joint(event, axis, (one, two), members)


def _outermost(piece: Piece, way: Vec3) -> Member:
    """The wood of a piece that reaches furthest in a direction."""
    return max(piece.members, key=lambda member: max(dot(corner, way) for corner in member.box))
