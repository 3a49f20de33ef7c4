"""The smooth surfaces of a piece and which wood lies on each; the same from every side, so found once a piece."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.triangles import above_zero
from planbook.solids import Solid, Vec3
from planbook.solids.faces import smooth_groups
from planbook.solids.visible import Body
from planbook.workshop.pieces import member_solids
from planbook.workshop.timeline import Member, Piece

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

CREASE_DEG = 25.0
"""Surfaces end where neighbouring triangles bend this much."""
TURN = 2e-3
"""Most difference of two unit normals that are the same, in each coordinate."""
SHIFT = 0.02
"""Most distance of two planes that are the same, mm."""
_SCALE = np.array([7.3, 5.1, 3.7, 1.0])
"""What the parts of a plane (unit normal and offset) count on the scale by which planes are sorted."""
SAME = 1e-4
"""Boards this close, mm, do not overlap; a corner this near to a plane lies in it."""


@dataclass(frozen=True, eq=False, slots=True)
class Groups:
    """The smooth surface of each triangle (-1 for a collapsed one), the unit normals of the triangles (n,3), and
    those at their corners (n,3,3): the mean of what meets there in the same surface. `areas` (n,) in mm2; `firsts` are
    the first triangle of each surface.
    """

    tags: Ints
    normals: Floats
    corners: Floats
    areas: Floats
    firsts: tuple[int, ...]


@lru_cache(maxsize=256)
def groups(solid: Solid) -> Groups:
    """The smooth surfaces of a solid."""
    vertices, triangles = solid.mesh
    tags = np.full(len(triangles), -1, dtype=np.int64)
    found = smooth_groups(Body("", vertices, triangles), CREASE_DEG)
    for number, group in enumerate(found):
        tags[list(group)] = number
    normals, _, areas = _planes(vertices[triangles])
    corners = _at_corners(vertices, triangles, tags, normals)
    return Groups(tags, normals, corners, areas, tuple(group[0] for group in found))


def _at_corners(vertices: Floats, triangles: NDArray[np.integer], tags: Ints, normals: Floats) -> Floats:
    """Unit normals at the corners of triangles, each normal weighted by the area of its triangle and its angle there.

    So a flat side keeps its own normal up to where a rounding begins, and it does not matter which way the strips of
    a rounding are cut into triangles.
    """
    corner = vertices[triangles]
    ahead, back = np.roll(corner, -1, axis=1) - corner, np.roll(corner, 1, axis=1) - corner
    cross = np.linalg.norm(np.cross(ahead, back), axis=2)
    weight = cross * np.arctan2(cross, np.einsum("ijk,ijk->ij", ahead, back))
    key = (tags[:, None] + 1) * len(vertices) + triangles
    _, where = np.unique(key.reshape(-1), return_inverse=True)
    weighted = (normals[:, None, :] * weight[:, :, None]).reshape(-1, 3)
    total = np.stack([np.bincount(where, weighted[:, k]) for k in range(3)], 1)
    size = np.linalg.norm(total, axis=1)
    found: Floats = (total / np.where(size > 0, size, 1.0)[:, None])[where].reshape(-1, 3, 3)
    return found


def wood_names(piece: Piece) -> tuple[str, ...]:
    """The woods of a piece by name, in the order of its members."""
    return tuple(dict.fromkeys(member.wood for member in piece.members))


def wood_surfaces(piece: Piece) -> Mapping[int, Mapping[str, tuple[Floats, ...]]]:
    """For each smooth surface, the woods that lie on it, each as the triangles (n,3,3) of its members there, mm."""
    near = tuple(m for m in piece.members if _overlap(m.box, piece.solid.bounds))
    if all(_alone(member, near) for member in near):
        return _boxed(piece.solid, near)
    return _wood_surfaces(piece.solid, member_solids(piece))


def _alone(member: Member, members: Sequence[Member]) -> bool:
    """Whether there is no other wood in the box of a member, so that the box tells its wood."""
    return not any(other.wood != member.wood and _overlap(member.box, other.box) for other in members)


@lru_cache(maxsize=256)
def _boxed(whole: Solid, members: tuple[Member, ...]) -> Mapping[int, Mapping[str, tuple[Floats, ...]]]:
    """The surfaces cut by the boxes of the boards, which is much quicker than cutting the solid."""
    vertices, triangles = whole.mesh
    surface, found = groups(whole), dict[int, dict[str, list[Floats]]]()
    for member in members:
        corners, of = _in_box(vertices[triangles], surface.normals, member.box)
        tags = surface.tags[of]
        for group in np.unique(tags[tags >= 0]).tolist():
            found.setdefault(group, {}).setdefault(member.wood, []).append(corners[tags == group])
    return _settled(found)


@lru_cache(maxsize=256)
def _wood_surfaces(
    whole: Solid, members: tuple[tuple[Member, Solid], ...]
) -> Mapping[int, Mapping[str, tuple[Floats, ...]]]:
    """The same from solids that were cut.

    A triangle of a member lies on the surface with which it shares a plane and the way it looks; the joints inside
    the piece share none.
    """
    vertices, triangles = whole.mesh
    rows = np.column_stack([_rounded_planes(vertices[triangles]), groups(whole).tags])
    outside = np.unique(rows, axis=0)
    found: dict[int, dict[str, list[Floats]]] = {}
    for member, solid in members:
        points, corners = solid.mesh
        for group, run in _runs(points[corners], outside).items():
            found.setdefault(group, {}).setdefault(member.wood, []).append(run)
    return _settled(found)


def _settled(found: Mapping[int, Mapping[str, list[Floats]]]) -> Mapping[int, Mapping[str, tuple[Floats, ...]]]:
    return {group: {wood: tuple(runs) for wood, runs in woods.items()} for group, woods in found.items()}


def _overlap(one: tuple[Vec3, Vec3], two: tuple[Vec3, Vec3]) -> bool:
    return all(min(one[1][k], two[1][k]) - max(one[0][k], two[0][k]) > SAME for k in range(3))


def _in_box(corners: Floats, normals: Floats, box: tuple[Vec3, Vec3]) -> tuple[Floats, Ints]:
    """The parts in a box of triangles (n,3,3) with these unit normals, and the triangle that each came from.

    A triangle in the plane of a side belongs to what lies behind it, not to what lies before it.
    """
    low, high = np.asarray(box[0]), np.asarray(box[1])
    near = (corners.min(axis=1) <= high + SAME).all(axis=1) & (corners.max(axis=1) >= low - SAME).all(axis=1)
    of = np.flatnonzero(near)
    mine = corners[of]
    for axis in range(3):
        for sign, limit in ((1.0, high[axis]), (-1.0, low[axis])):
            inward = sign * (limit - mine[:, :, axis])
            inward[np.abs(inward) < SAME] = 0.0
            least = inward.min(axis=1, initial=np.inf)
            if (least > 0).all():
                continue
            before = (least == 0) & (inward == 0).all(axis=1) & (sign * normals[of, axis] < 0)
            mine, of, inward = mine[~before], of[~before], inward[~before]
            if (least[~before] < 0).any():
                mine, kept = above_zero(mine, inward)
                of = of[kept]
    return mine, of


def _runs(corners: Floats, outside: Floats) -> dict[int, Floats]:
    """Triangles by the surface they lie on; `outside` (m,5) are planes of surfaces with the surface's number.

    Planes that are the same are near each other on one scale as well, on which few others are.
    """
    outside = outside[np.argsort(outside[:, :4] @ _SCALE, kind="stable")]
    known, near = outside[:, :4] @ _SCALE, SHIFT + TURN * float(_SCALE[:3].sum())
    planes, where = np.unique(_rounded_planes(corners), axis=0, return_inverse=True)
    where = where.reshape(-1)
    low = np.searchsorted(known, planes @ _SCALE - near)
    high = np.searchsorted(known, planes @ _SCALE + near, side="right")
    count = high - low
    plane = np.repeat(np.arange(len(planes)), count)
    other = np.arange(int(count.sum())) - np.repeat(np.cumsum(count) - count, count) + np.repeat(low, count)
    apart = np.abs(planes[plane] - outside[other, :4])
    same = (apart[:, :3].max(axis=1, initial=0.0) < TURN) & (apart[:, 3] < SHIFT)
    pairs = np.unique(np.stack([outside[other[same], 4].astype(np.int64), plane[same]], 1), axis=0)
    return {
        int(group): corners[np.isin(where, pairs[pairs[:, 0] == group, 1])]
        for group in np.unique(pairs[:, 0])
        if group >= 0
    }


def _rounded_planes(corners: Floats) -> Floats:
    """Plane of each triangle: unit normal and offset in mm (n,4), in steps in which the same planes are alike."""
    normals, offsets, _ = _planes(corners)
    return np.round(np.column_stack([normals, offsets]), 4).astype(np.float64)


def _planes(corners: Floats) -> tuple[Floats, Floats, Floats]:
    """Of triangles (n,3,3) the unit normals (n,3), offsets in mm (n,) and areas in mm2 (n,)."""
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(cross, axis=1)
    normal: Floats = cross / np.where(size > 0, size, 1.0)[:, None]
    return normal, np.einsum("ij,ij->i", normal, corners.mean(axis=1)), size / 2
