"""How finished pieces swell and shrink through the year; no build is needed for it, only the solids and their woods."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planbook import handbook
from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import times
from planbook.workshop.timeline import Member, Piece

Points = NDArray[np.float64]
EDGE = 1e-6
"""A point this close to a board (mm) lies in it."""
HOLD = 2.0
"""Two pieces hold each other along an axis where neither way there is room for this much (mm)."""


@dataclass(frozen=True, slots=True)
class Swelling:
    """A change of moisture content, in points of per cent."""

    points: float

    def of(self, piece: Piece, about: Vec3) -> Solid:
        """The piece's solid after the change, with the wood at `about` staying where it is.

        Pieces are stretched about the middle of the one that moves, not about the world's origin: a drawer stands
        in its opening with play on both sides, and keeps doing so. Where a piece lies in the world says nothing
        about how it moves against its neighbours; measured from far away, both would travel together.
        """
        if not any(any(strain(member, self.points)) for member in piece.members):
            return piece.solid
        return piece.solid.warped(lambda corners: self.places(piece, corners, about))

    def places(self, piece: Piece, points: Points, about: Vec3) -> Points:
        """Where points (n, 3) of the piece's wood come to lie, mm, with the wood at `about` staying where it is."""
        strains = np.asarray([strain(member, self.points) for member in piece.members])
        boxes = np.asarray([member.box for member in piece.members])
        return points + _displacement(points, np.asarray(about), boxes, strains)


def held_at(first: Solid, second: Solid) -> Vec3:
    """The point that stays where it is when two pieces swell that lie beside or in each other.

    Along an axis along which they hold each other (a tab in its hollow, a tongue between two cheeks, a drawer in its
    case) it is the middle of where they lie in each other: whichever is loose goes along. Along others it is the
    middle of the first, as for a panel that grows into the groove of a stile.
    """
    low, high = np.maximum(first.bounds[0], second.bounds[0]), np.minimum(first.bounds[1], second.bounds[1])
    middle = list(first.middle)
    if (high - low > EDGE).all():
        for axis, way in enumerate(AXES.values()):
            if all(first.meet(second.moved(times(way, by))).volume > EDGE for by in (HOLD, -HOLD)):
                middle[axis] = float(low[axis] + high[axis]) / 2
    return (middle[0], middle[1], middle[2])


def strain(member: Member, points: float) -> Vec3:
    """The share by which a wood grows along x, y and z for a change of moisture content in points of per cent.

    Along the grain nothing (0.1 to 0.2 % from green to ovendry, Wood Handbook 2010, p. 4-5), across it the
    tangential change: how the board was cut from the log is not known, and this is the worse. Eq. 13-2, whose line
    from 6 to 14 % is taken for all of the year. A wood whose change is not known does not move.
    """
    change = (coefficient(member.wood) or 0.0) * points
    x, y, z = (change * (1 - g * g) for g in member.grain)
    return (x, y, z)


def coefficient(wood: str) -> float | None:
    """The tangential change of a wood per point of moisture content (Table 13-5); None where it is not known."""
    row = handbook.wood(wood)
    return row.coefficient_tangential if row else None


def unmoving(pieces: Iterable[Piece]) -> tuple[str, ...]:
    """The woods of pieces about whose movement nothing is known."""
    found = {member.wood for piece in pieces for member in piece.members}
    return tuple(sorted(wood for wood in found if coefficient(wood) is None))


def moisture(humidity: float, celsius: float) -> float:
    """The moisture content in per cent that wood comes to at a relative humidity in per cent."""
    return handbook.emc(humidity / 100, celsius)


def _displacement(corners: Points, about: Points, boxes: Points, strains: Points) -> Points:
    """How far each corner (n, 3) travels: along each axis, the strain of the woods between it and `about`, added up.

    `boxes` (m, 2, 3) are the boards, `strains` (m, 3) theirs. Air between two rails is as wide as the stiles beside
    it make it: it takes the strain of the boards that run past it, and none where there are none.
    """
    inside = (corners[:, None, :] >= boxes[None, :, 0, :] - EDGE) & (corners[:, None, :] <= boxes[None, :, 1, :] + EDGE)
    sizes = boxes[:, 1] - boxes[:, 0]
    moved = np.zeros_like(corners)
    for axis in range(3):
        beside = inside[:, :, [i for i in range(3) if i != axis]].all(axis=2)
        low, high = np.minimum(corners[:, axis], about[axis]), np.maximum(corners[:, axis], about[axis])
        shared = np.minimum(high[:, None], boxes[:, 1, axis]) - np.maximum(low[:, None], boxes[:, 0, axis])
        shared = np.maximum(shared, 0.0)
        past = np.where(beside, 0.0, shared * sizes.prod(axis=1) / sizes[:, axis])
        shared = np.where(beside, shared, 0.0)
        whole, covered = high - low, shared.sum(axis=1)
        grown = (shared * strains[:, axis]).sum(axis=1) * np.minimum(1.0, whole / np.maximum(covered, 1e-12))
        beside_strain = (past * strains[:, axis]).sum(axis=1) / np.maximum(past.sum(axis=1), 1e-12)
        grown += np.maximum(whole - covered, 0.0) * beside_strain
        moved[:, axis] = np.sign(corners[:, axis] - about[axis]) * grown
    return moved
