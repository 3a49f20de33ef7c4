"""What of the surface of a solid lies in another, and which triangle each part of it comes from."""

from functools import lru_cache

import numpy as np
from manifold3d import Manifold, Mesh64

from planbook.solids.columns import every, least, most
from planbook.solids.solid import Solid
from planbook.solids.triangles import Floats, Ints, above_zero, planes

NEAR = 0.01
"""How far a triangle may lie off the plane of another to lie on it, mm."""
ALIKE = 0.999
"""Least cosine between their normals."""


def surface_within(whole: Solid, region: Solid) -> tuple[Floats, Ints]:
    """Triangles (n,3,3) of the surface of the whole that lie in a region, mm, and the triangle that each is part of.

    Where the surface of a region lies on that of the whole, either may be the one that is left of the two.
    """
    body, own = _told_apart(whole)
    mesh = (body ^ region.body).to_mesh64()
    starts = np.asarray(mesh.run_index).astype(np.int64) // 3
    mine = np.repeat(np.asarray(mesh.run_original_id) == own, np.diff(starts))
    corners = np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts).astype(np.int64)]
    others, source = _lying_on(whole, corners[~mine])
    known = np.asarray(mesh.face_id)[mine].astype(np.int64)
    return np.concatenate([corners[mine], others]), np.concatenate([known, source])


def _lying_on(whole: Solid, corners: Floats) -> tuple[Floats, Ints]:
    """What of some triangles (n,3,3) lies on a surface, turned as it is, and the triangle of it under each part."""
    vertices, triangles = whole.mesh
    space = vertices[triangles]
    low, high = corners.min(axis=(0, 1), initial=np.inf) - NEAR, corners.max(axis=(0, 1), initial=-np.inf) + NEAR
    about = np.flatnonzero(every((least(space) < high) & (most(space) > low)))
    mine: Floats = space[about]
    normals, offset, _ = planes(mine)
    near = (np.abs(corners @ normals.T - offset) < NEAR).all(axis=1) & (planes(corners)[0] @ normals.T > ALIKE)
    part, of = np.nonzero(near)
    parts = corners[part]
    for side in range(3):  # cut to the triangle under it by planes through its sides
        start, end = mine[of, side], mine[of, (side + 1) % 3]
        inward = np.cross(normals[of], end - start)
        parts, kept = above_zero(parts, np.einsum("ijk,ik->ij", parts - start[:, None], inward))
        of = of[kept]
    return parts, about[of]


@lru_cache(maxsize=16)
def _told_apart(whole: Solid) -> tuple[Manifold, int]:
    """The body with a number for each triangle, which is kept when it is cut; and the number of the body itself."""
    vertices, triangles = whole.mesh
    own = int(Manifold.reserve_ids(1))
    mesh = Mesh64(
        vertices,
        triangles.astype(np.uint64),
        run_index=np.array([0, 3 * len(triangles)], np.uint64),
        run_original_id=np.array([own], np.uint32),
        face_id=np.arange(len(triangles), dtype=np.uint64),
    )
    return Manifold(mesh), own
