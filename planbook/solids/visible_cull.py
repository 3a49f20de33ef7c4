"""Edges that lie behind other surfaces over their whole length; without them the map stays small."""

from functools import reduce

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
    sides = _sides(scene)
    # Most edges that are seen show it in the middle, and most that are not are behind one triangle.
    maybe, before = _behind(scene, sides)
    low, high = _stretch(scene, maybe, before)
    alone = (low <= 0.0) & (high >= 1.0)
    result[maybe[alone]] = True
    maybe = maybe[~alone]
    for start in range(0, len(maybe), CHUNK):
        part = maybe[start : start + CHUNK]
        result[part] = _covered(scene, sides, part)
    return result


def _behind(scene: Scene, sides: Floats) -> tuple[Ints, Ints]:
    """The edges that may be behind something in the middle, and the triangle nearest to the eye there."""
    points, depth = scene.ends.mean(axis=1), scene.heights.mean(axis=1)
    nearest = np.full(len(points), -1, dtype=np.int64)
    for start in range(0, len(points), POINTS):
        point, triangle = scene.tree.query(shapely.points(points[start : start + POINTS]))
        point += start
        deep = np.flatnonzero(depth[point] < scene.tops[triangle])
        point, triangle = point[deep], triangle[deep]
        inside = _meeting(sides, points[:, None], point, triangle)
        point, triangle = point[inside], triangle[inside]
        over = _under(scene, triangle, points[point], depth[point])
        hides = np.flatnonzero(over > scene.slack[triangle] * (1.0 - LOOSE))
        hides = hides[np.argsort(over[hides], kind="stable")]  # the nearest is written last and stays
        nearest[point[hides]] = triangle[hides]
    maybe = np.flatnonzero(nearest >= 0)
    return maybe, nearest[maybe]


def _under(scene: Scene, triangle: Ints, points: Floats, depth: Floats) -> Floats:
    """How far each triangle is nearer to the eye at the point inside it, mm."""
    u, v = (points - scene.corners[triangle, 0]).T
    rise = scene.rise[triangle].T
    found: Floats = scene.depths[triangle, 0] + rise[0] * u + rise[1] * v - depth
    return found


def _covered(scene: Scene, sides: Floats, edges: Ints) -> Bools:
    edge, triangle = scene.tree.query(extents(scene.ends[edges]))
    deep = np.flatnonzero(least(scene.heights[edges])[edge] < scene.tops[triangle])
    edge, triangle = edge[deep], triangle[deep]
    meets = _meeting(sides, scene.ends[edges], edge, triangle)
    edge, triangle = edge[meets], triangle[meets]
    low, high = _stretch(scene, edges[edge], triangle)
    some = low < high
    return _without_gap(edge[some], low[some], high[some], len(edges))


def _sides(scene: Scene) -> Floats:
    """What u, v and 1 are multiplied with for the shares of the second and third corner of each triangle (2,3,f)."""
    base = np.einsum("ijk,ik->ij", scene.shares, scene.corners[:, 0])
    return np.concatenate([scene.shares, -base[:, :, None]], axis=2).transpose(1, 2, 0).copy()


def _meeting(sides: Floats, ways: Floats, way: Ints, triangle: Ints) -> Ints:
    """Which pairs of ways (n,k,2), given by their corners, and triangles may meet; few do of those whose boxes meet.

    Those do not of which all corners lie beyond the same side of the triangle. What is loosely within counts as inside.
    """
    found, ends, before = np.arange(len(way)), ways.transpose(1, 2, 0).copy(), [np.float64(0.0)] * ways.shape[1]
    for side in sides:
        mine, of = triangle.take(found), way.take(found)
        u, v, base = (each.take(mine) for each in side)
        shares = [u * x.take(of) + v * y.take(of) + base for x, y in ends]
        sums = [share + other for share, other in zip(shares, before, strict=True)]
        kept = np.flatnonzero((reduce(np.maximum, shares) >= -LOOSE) & (reduce(np.minimum, sums) <= 1 + LOOSE))
        found, before = found.take(kept), [share.take(kept) for share in shares]
    return found


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
