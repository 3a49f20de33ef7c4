"""How much air lies between two solids along an axis, and how thick the walls of one are, by rays; judges nothing."""

import numpy as np
from numpy.typing import NDArray

from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.workshop.motions import SEARCH

QUARTERS = ((0.8, 0.6), (-0.6, 0.8), (-0.8, -0.6), (0.6, -0.8))
"""One direction in each quarter, along no axis and no diagonal."""
HAIR = 1e-4
"""How far beside a corner a ray is asked again, mm."""
STRETCH = 1.1
"""No wall grows or shrinks through the year by more than this share."""


def gaps_along(a: Solid, b: Solid, way: Vec3) -> list[tuple[float, Vec3]]:
    """Distances along an axis from one solid's corners to the other, both ways, each with the point half way."""
    found: list[tuple[float, Vec3]] = []
    for solid, other in ((a, b), (b, a)):
        for sign in (way, negated(way)):
            for corner in np.unique(solid.mesh[0].round(6), axis=0):
                start = point_of(corner)
                gap = _gap_from(start, sign, solid, other)
                if gap is not None:
                    found.append((gap, _along(start, sign, gap / 2)))
    return found


def _gap_from(corner: Vec3, way: Vec3, solid: Solid, other: Solid) -> float | None:
    """The air between a corner of a solid and another along a way, or None where there is none.

    A ray that runs along a surface says nothing about what it passes; so four rays a hair beside it are asked too,
    one in each quarter, since the two faces that meet in the edge of a board leave wood in one quarter only.
    """
    start, end = _along(corner, way, HAIR), _along(corner, way, SEARCH)
    if not other.hits(corner, end)[:1] or solid.hits(start, end):
        return None
    one, two = (axis for axis in AXES.values() if not np.dot(axis, way))
    beside = [plus(times(one, u), times(two, v)) for u, v in QUARTERS]
    moved = [(_along(corner, side, HAIR), _along(start, side, HAIR), _along(end, side, HAIR)) for side in beside]
    first = [
        crossed for at, to in [(corner, end), *((at, to) for at, _, to in moved)] for crossed in other.walls(at, to)[:1]
    ]
    # A ray that leaves the other solid began in its wood: two pieces that rest on one another may have swelled.
    entered = [hit for hit, normal in first if dot(normal, way) < 0]
    if not entered:
        return None
    far = min(entered)
    own = [hit for _, at, to in moved for hit in solid.hits(at, to)[:1]]
    return None if any(hit < far - 1e-3 for hit in own) else far


def thinnest(solid: Solid) -> list[tuple[NDArray[np.float64], NDArray[np.float64]]]:
    """Both ends of the thinnest wall and of those that are nearly as thin, mm."""
    vertices, triangles = solid.mesh
    a, b, c = (vertices[triangles[:, i]] for i in range(3))
    normals = np.cross(b - a, c - a)
    sizes = np.linalg.norm(normals, axis=1)
    facing = sizes >= 0.5
    inward = -normals[facing] / sizes[facing, None]
    spots = ((a + b + c) / 3)[facing]
    found: list[tuple[float, int]] = []
    reach = SEARCH * 4
    for at, (start, way) in enumerate(zip((spots + inward * 1e-3).tolist(), inward.tolist(), strict=True)):
        crossings = solid.walls(start, _along(start, way, reach))
        if crossings and dot(crossings[0][1], way) > 0.5:
            found.append((crossings[0][0] + 1e-3, at))
            reach = min(reach, found[-1][0] * STRETCH)
    return [(spots[at], spots[at] + inward[at] * far) for far, at in found if far <= reach]


def point_of(array: NDArray[np.float64]) -> Vec3:
    """A point from the three numbers of an array."""
    return (float(array[0]), float(array[1]), float(array[2]))


def _along(point: Vec3, way: Vec3, far: float) -> Vec3:
    return (point[0] + way[0] * far, point[1] + way[1] * far, point[2] + way[2] * far)
