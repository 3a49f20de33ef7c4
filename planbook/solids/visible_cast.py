"""Which triangle the eye meets first at a point of the picture."""

import numpy as np
import shapely

from planbook.solids.columns import most
from planbook.solids.faces_mesh import Floats, Ints
from planbook.solids.visible_scene import Scene

CHUNK = 10_000


def nearest(scene: Scene, points: Floats) -> tuple[Ints, Floats]:
    """Front triangle seen at each point (n,2), -1 for none, and the depth there (n,), -inf for none.

    Where several are equally near, the first body wins, then the nearer triangle.
    """
    found = np.full(len(points), -1, dtype=np.int64)
    depth = np.full(len(points), -np.inf)
    for start in range(0, len(points), CHUNK):
        part = slice(start, start + CHUNK)
        found[part], depth[part] = _nearest(scene, points[part])
    return found, depth


def depth_on(scene: Scene, triangles: Ints, points: Floats) -> tuple[Floats, Floats]:
    """Depth of triangles (n,) at points (n,2), and how far outside the triangle the point is (mm, 0 inside).

    Outside, the depth is held within that of the triangle.
    """
    corner = scene.corners[triangles]
    following = np.roll(corner, -1, axis=1)
    side = following - corner
    offset = points[:, None, :] - corner
    twice = side[:, :, 0] * offset[:, :, 1] - side[:, :, 1] * offset[:, :, 0]
    outside = most(np.maximum(-twice / np.hypot(side[:, :, 0], side[:, :, 1]), 0.0))
    share = np.maximum(np.roll(twice, -1, axis=1), 0.0)  # side k is opposite corner k+2
    share /= share.sum(axis=1, keepdims=True)
    return np.einsum("ij,ij->i", share, scene.depths[triangles]), outside


def _nearest(scene: Scene, points: Floats) -> tuple[Ints, Floats]:
    found = np.full(len(points), -1, dtype=np.int64)
    top = np.full(len(points), -np.inf)
    point, triangle = scene.tree.query(shapely.points(points))
    depth, outside = depth_on(scene, triangle, points[point])
    inside = outside <= scene.grid
    point, triangle, depth = point[inside], triangle[inside], depth[inside]
    np.maximum.at(top, point, depth)
    near = depth >= top[point] - scene.slack[triangle]
    point, triangle, depth = point[near], triangle[near], depth[near]
    order = np.lexsort((triangle, -depth, scene.body[triangle], point))
    point, triangle, depth = point[order], triangle[order], depth[order]
    first = np.ones(len(point), dtype=np.bool_)
    first[1:] = point[1:] != point[:-1]
    found[point[first]] = triangle[first]
    top[point[first]] = depth[first]
    return found, top
