"""What of a surface, or of a solid, lies in a box along the axes, without cutting the solid."""

from collections.abc import Sequence

import numpy as np

from planbook.solids.columns import every, least, most
from planbook.solids.frames import Vec3
from planbook.solids.solid import Solid
from planbook.solids.triangles import Floats, Ints, above_zero

SAME = 1e-4
"""Boxes this close, mm, do not overlap; a corner this near to a plane lies in it."""

Box = tuple[Vec3, Vec3]
"""Lower and upper corner, mm."""


def overlap(one: Box, two: Box) -> bool:
    """Whether two boxes have more than a face in common."""
    return all(min(one[1][k], two[1][k]) - max(one[0][k], two[0][k]) > SAME for k in range(3))


def joined_boxes(boxes: Sequence[Box]) -> list[Box]:
    """Fewer boxes that fill the same room: those that share a whole side, or lie in others, are joined."""
    found: list[Box] = []
    for box in boxes:
        one = box
        while (other := next((each for each in found if _joins(one, each)), None)) is not None:
            found.remove(other)
            low, high = np.minimum(one[0], other[0]), np.maximum(one[1], other[1])
            one = (low[0].item(), low[1].item(), low[2].item()), (high[0].item(), high[1].item(), high[2].item())
        found.append(one)
    return found


def _joins(one: Box, two: Box) -> bool:
    """Whether two boxes together are a box."""
    low, high = np.subtract(two[0], one[0]), np.subtract(two[1], one[1])
    if ((low > -SAME) & (high < SAME)).all() or ((low < SAME) & (high > -SAME)).all():
        return True
    apart = (np.abs(low) > SAME) | (np.abs(high) > SAME)
    (axis,) = np.flatnonzero(apart) if apart.sum() == 1 else (None,)
    return axis is not None and max(one[0][axis], two[0][axis]) - min(one[1][axis], two[1][axis]) < SAME


def surface_in(corners: Floats, normals: Floats, box: Box) -> tuple[Floats, Ints]:
    """The parts in a box of triangles (n,3,3) with these unit normals, and the triangle that each came from.

    A triangle in the plane of a side belongs to what lies behind it, not to what lies before it.
    """
    low, high = np.asarray(box[0]), np.asarray(box[1])
    near = every((least(corners) <= high + SAME) & (most(corners) >= low - SAME))
    of = np.flatnonzero(near)
    mine = corners[of]
    for axis in range(3):
        for sign, limit in ((1.0, high[axis]), (-1.0, low[axis])):
            inward = sign * (limit - mine[:, :, axis])
            inward[np.abs(inward) < SAME] = 0.0
            lowest = least(inward)
            if (lowest > 0).all():
                continue
            before = (lowest == 0) & every(inward == 0) & (sign * normals[of, axis] < 0)
            mine, of, inward = mine[~before], of[~before], inward[~before]
            if (lowest[~before] < 0).any():
                mine, kept = above_zero(mine, inward)
                of = of[kept]
    return mine, of


def volume_in(solid: Solid, box: Box) -> float:
    """The volume of a solid in a box, mm3.

    By the divergence theorem with a field along z that grows by 1 a mm from the lower side of the box to the upper, and
    is nothing beside it: what the faces of the box would add is nothing.
    """
    vertices, triangles = solid.mesh
    mine: Floats = vertices[triangles]
    for axis in range(2):
        for sign, limit in ((1.0, box[0][axis]), (-1.0, box[1][axis])):
            inward = sign * (mine[:, :, axis] - limit)
            if (inward < 0).any():
                mine, _ = above_zero(mine, inward)
    return _moment(mine, box[0][2]) - _moment(mine, box[1][2])


def _moment(corners: Floats, level: float) -> float:
    """The sum, over what of the triangles is higher than a level, of its height over it times its shadow on it, mm3."""
    high, _ = above_zero(corners, corners[:, :, 2] - level)
    one, two = high[:, 1] - high[:, 0], high[:, 2] - high[:, 0]
    shadow = (one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2
    return float((shadow * (high[:, :, 2].mean(axis=1) - level)).sum())
