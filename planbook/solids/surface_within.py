"""What of the surface of a solid lies in another, and which triangle each part of it comes from."""

from functools import lru_cache

import numpy as np
from manifold3d import Manifold, Mesh64

from planbook.solids.solid import Solid
from planbook.solids.triangles import Floats, Ints


def surface_within(whole: Solid, region: Solid) -> tuple[Floats, Ints]:
    """Triangles (n,3,3) of the surface of the whole that lie in a region, mm, and the triangle that each is part of."""
    body, own = _told_apart(whole)
    mesh = (body ^ region.body).to_mesh64()
    starts = np.asarray(mesh.run_index).astype(np.int64) // 3
    mine = np.repeat(np.asarray(mesh.run_original_id) == own, np.diff(starts))
    corners = np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts)[mine].astype(np.int64)]
    return corners, np.asarray(mesh.face_id)[mine].astype(np.int64)


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
