"""Whether points of the world lie behind triangles, many points at once; it draws nothing."""

from dataclasses import dataclass

import numpy as np
import shapely

from planbook.solids.extents import extents
from planbook.solids.faces_mesh import Bools, Floats, Ints
from planbook.solids.visible_view import View

CHUNK = 2_000
EDGE = 1e-9
"""A point this far outside a side of a triangle, as a share of its height, still lies on it."""


@dataclass(frozen=True, eq=False, slots=True)
class Front:
    """Triangles that face the eye, in the frame of a view (f,3,3), in a tree by their boxes."""

    frame: Floats
    corners: Floats
    tree: shapely.STRtree

    def hidden(self, points: Floats, off: float) -> Bools:
        """Which points of the world (n,3) have a triangle more than `off` mm before them (n,)."""
        seen = points @ self.frame.T
        found = np.zeros(len(points), dtype=np.bool_)
        for start in range(0, len(points), CHUNK):
            part = seen[start : start + CHUNK]
            point, triangle = self.tree.query(shapely.points(part[:, :2]))
            before = self._before(part[point], triangle, off)
            found[start + point[before]] = True
        return found

    def _before(self, points: Floats, triangles: Ints, off: float) -> Bools:
        corner = self.corners[triangles]
        side = np.roll(corner, -1, axis=1) - corner
        offset = points[:, None, :] - corner
        twice = side[:, :, 0] * offset[:, :, 1] - side[:, :, 1] * offset[:, :, 0]
        whole = twice.sum(axis=1)
        inside = (twice >= -EDGE * whole[:, None]).all(axis=1)
        depth = np.einsum("ij,ij->i", np.roll(twice, -1, axis=1) / whole[:, None], corner[:, :, 2])
        before: Bools = inside & (depth > points[:, 2] + off)
        return before


def front_of(corners: Floats, view: View) -> Front:
    """The triangles (n,3,3) of the world that face the eye of a view."""
    frame = np.array([view.right, view.up, view.toward], dtype=np.float64)
    seen = corners @ frame.T
    one, two = seen[:, 1] - seen[:, 0], seen[:, 2] - seen[:, 0]
    facing = seen[one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] > 1e-9]
    return Front(frame, facing, shapely.STRtree(extents(facing[:, :, :2])))
