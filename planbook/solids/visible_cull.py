"""Edges that lie behind other surfaces over their whole length; without them the map stays small."""

import numpy as np
import shapely

from planbook.solids.columns import least
from planbook.solids.extents import extents
from planbook.solids.faces_mesh import Bools, Floats, Ints
from planbook.solids.visible_scene import Scene

CHUNK = 1_000
POINTS = 10_000
LOOSE = 1e-6
"""How much a sample may miss a triangle, as a share of its height, and still be left to the exact look."""
TOUCH = 1e-9
"""Two covered stretches this close (as a share of the edge) leave no gap between them."""


def covered(scene: Scene) -> Bools:
    """Which edges (e,) are wholly behind triangles that face the eye; touching a surface is not behind it."""
    result = np.zeros(len(scene.ends), dtype=np.bool_)
    # Most edges that are seen show it in the middle, and most that are not are behind one triangle.
    maybe, before = _behind(scene)
    low, high = _stretch(scene, maybe, before)
    alone = (low <= 0.0) & (high >= 1.0)
    result[maybe[alone]] = True
    maybe = maybe[~alone]
    for start in range(0, len(maybe), CHUNK):
        part = maybe[start : start + CHUNK]
        result[part] = _covered(scene, part)
    return result


def _behind(scene: Scene) -> tuple[Ints, Ints]:
    """The edges that may be behind something in the middle, and the triangle nearest to the eye there."""
    points, depth = scene.ends.mean(axis=1), scene.heights.mean(axis=1)
    nearest = np.full(len(points), -1, dtype=np.int64)
    for start in range(0, len(points), POINTS):
        point, triangle = scene.tree.query(shapely.points(points[start : start + POINTS]))
        point += start
        deep = depth[point] < scene.tops[triangle]
        point, triangle = point[deep], triangle[deep]
        inside, over = _under(scene, triangle, points[point], depth[point])
        hides = np.flatnonzero(inside & (over > scene.slack[triangle] * (1.0 - LOOSE)))
        hides = hides[np.argsort(over[hides], kind="stable")]  # the nearest is written last and stays
        nearest[point[hides]] = triangle[hides]
    maybe = np.flatnonzero(nearest >= 0)
    return maybe, nearest[maybe]


def _under(scene: Scene, triangle: Ints, points: Floats, depth: Floats) -> tuple[Bools, Floats]:
    """Whether each point is inside its triangle, loosely, and how far the triangle is nearer there, mm."""
    u, v = (points - scene.corners[triangle, 0]).T
    shares, rise = scene.shares[triangle], scene.rise[triangle]
    one, two = (shares[:, k, 0] * u + shares[:, k, 1] * v for k in range(2))
    least = np.minimum(np.minimum(one, two), 1 - one - two)
    return least >= -LOOSE, scene.depths[triangle, 0] + rise[:, 0] * u + rise[:, 1] * v - depth


def _covered(scene: Scene, edges: Ints) -> Bools:
    edge, triangle = scene.tree.query(extents(scene.ends[edges]))
    deep = least(scene.heights[edges])[edge] < scene.tops[triangle]
    edge, triangle = edge[deep], triangle[deep]
    low, high = _stretch(scene, edges[edge], triangle)
    some = low < high
    return _without_gap(edge[some], low[some], high[some], len(edges))


def _stretch(scene: Scene, edge: Ints, triangle: Ints) -> tuple[Floats, Floats]:
    """Parameters of each edge between which it is behind its triangle (empty when low >= high)."""
    (u, v), shares = (scene.ends[edge] - scene.corners[triangle, :1]).T, scene.shares[triangle].T
    one, two = (shares[0, k] * u + shares[1, k] * v for k in range(2))
    rise = scene.rise[triangle].T
    over = rise[0] * u + rise[1] * v - scene.heights[edge].T
    over += scene.depths[triangle, 0] - scene.slack[triangle]
    # Four linear functions of the parameter must be positive: inside three sides, and nearer by the slack.
    first, last = np.stack([one + TOUCH, two + TOUCH, 1 - one - two + TOUCH, over], 1)
    with np.errstate(divide="ignore", invalid="ignore"):
        zero = first / (first - last)
    low = np.where(first >= 0, 0.0, np.where(last > 0, zero, 2.0)).max(axis=0, initial=0.0)
    high = np.where(last >= 0, 1.0, np.where(first > 0, zero, -1.0)).min(axis=0, initial=1.0)
    return low, high


def _without_gap(edge: Ints, low: Floats, high: Floats, count: int) -> Bools:
    """Which of `count` edges the stretches (low, high) cover from 0 to 1 with no gap."""
    order = np.lexsort((low, edge))
    edge, low, high = edge[order], low[order], high[order]
    # Adding twice the edge number keeps a running maximum from reaching into the next edge.
    reached = np.maximum.accumulate(high + 2.0 * edge) - 2.0 * edge
    first = np.ones(len(edge), dtype=np.bool_)
    first[1:] = edge[1:] != edge[:-1]
    before = np.where(first, 0.0, np.r_[0.0, reached[:-1]])
    gap = np.bincount(edge, low > before + TOUCH, count)
    end = np.zeros(count)
    np.maximum.at(end, edge, high)
    whole: Bools = (gap == 0) & (end >= 1.0 - TOUCH)
    return whole
