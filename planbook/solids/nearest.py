"""Where two solids come nearest to one another: a point between them; how near is asked of the solids themselves."""

import numpy as np
from numpy.typing import NDArray

from planbook.solids.columns import every, least, most
from planbook.solids.frames import Vec3
from planbook.solids.solid import Solid

Points = NDArray[np.float64]
MOST_AT_ONCE = 1_000_000
"""Distances between boxes that are held at one time: 8 MB for each of them."""
MOST_PAIRS = 4000
"""Pairs of triangles that are compared exactly; where faces lie side by side there are many as near as each other."""


def meeting_point(a: Solid, b: Solid, gap: float) -> Vec3:
    """A point half way between two solids where they are about `gap` mm apart; in their overlap if they have one."""
    if gap <= 0:
        shared = a.meet(b)
        return shared.middle if not shared.empty else a.middle
    first, second = _pairs(_corners(a), _corners(b), gap * 1.001 + 1e-6)
    if not len(first):
        return a.middle
    here, there = _closest(first, second)
    best = int(np.argmin(np.round(np.linalg.norm(here - there, axis=1), 9)))
    x, y, z = (here[best] + there[best]) / 2
    return (float(x), float(y), float(z))


def _corners(solid: Solid) -> Points:
    """The corners of every triangle, (n, 3, 3)."""
    vertices, triangles = solid.mesh
    corners = np.zeros((len(triangles), 3, 3))
    corners[:] = vertices[triangles]
    return corners


def _pairs(first: Points, second: Points, within: float) -> tuple[Points, Points]:
    """Triangles of both whose boxes are within a distance (mm) of one another."""
    first, second = _near_box(first, second, within), _near_box(second, first, within)
    rows = max(1, MOST_AT_ONCE // max(len(second), 1))
    found = [_near(first[at : at + rows], second, within) for at in range(0, len(first), rows)]
    if not found:
        return first[:0], second[:0]
    apart = np.concatenate([far for _, _, far in found])
    here = np.concatenate([part + at * rows for at, (part, _, _) in enumerate(found)])
    there = np.concatenate([part for _, part, _ in found])
    order = np.argsort(apart, kind="stable")[:MOST_PAIRS]
    return first[here[order]], second[there[order]]


def _near(some: Points, others: Points, within: float) -> tuple[NDArray[np.int64], NDArray[np.int64], Points]:
    """Which triangles have boxes within a distance, and the squares of the distances between the boxes."""
    apart = np.zeros((len(some), len(others)))
    for axis in range(3):
        a, b = some[:, :, axis], others[:, :, axis]
        ahead, behind = least(b)[None, :] - most(a)[:, None], least(a)[:, None] - most(b)[None, :]
        apart += np.maximum(np.maximum(ahead, behind), 0.0) ** 2
    here, there = np.nonzero(apart <= within**2)
    return here, there, apart[here, there]


def _near_box(some: Points, others: Points, within: float) -> Points:
    if not len(some) or not len(others):
        return some
    low, high = others.min(axis=(0, 1)) - within, others.max(axis=(0, 1)) + within
    near: NDArray[np.bool_] = every((most(some) >= low) & (least(some) <= high))
    return np.compress(near, some, axis=0)


def _closest(first: Points, second: Points) -> tuple[Points, Points]:
    """The closest points of pairs of triangles that do not cross: a corner and a face, or two edges."""
    here, there, reach = first[:, 0], second[:, 0], np.full(len(first), np.inf)
    for corner in range(3):
        on_second = _on_triangle(first[:, corner], second)
        here, there, reach = _nearer(here, there, reach, first[:, corner], on_second)
        on_first = _on_triangle(second[:, corner], first)
        here, there, reach = _nearer(here, there, reach, on_first, second[:, corner])
    for i in range(3):
        for j in range(3):
            p, q = _on_edges(first[:, i], first[:, (i + 1) % 3], second[:, j], second[:, (j + 1) % 3])
            here, there, reach = _nearer(here, there, reach, p, q)
    return here, there


def _nearer(here: Points, there: Points, reach: Points, p: Points, q: Points) -> tuple[Points, Points, Points]:
    apart = p - q
    far = np.sqrt(_dots(apart, apart))
    better = far < reach
    return np.where(better[:, None], p, here), np.where(better[:, None], q, there), np.where(better, far, reach)


def _on_triangle(points: Points, triangles: Points) -> Points:
    """The foot of each point on its triangle where it falls inside; otherwise the triangle's first corner."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    normal = _crossed(b - a, c - a)
    size = np.maximum(_dots(normal, normal), 1e-30)
    foot = points - normal * (_dots(points - a, normal) / size)[:, None]
    inside = np.ones(len(points), dtype=bool)
    for start, end in ((a, b), (b, c), (c, a)):
        inside &= _dots(_crossed(end - start, foot - start), normal) >= -1e-9 * size
    return np.where(inside[:, None], foot, a)


def _on_edges(p: Points, p_end: Points, q: Points, q_end: Points) -> tuple[Points, Points]:
    """The closest points of pairs of edges (Ericson, Real-Time Collision Detection, 5.1.9; from memory)."""
    u, v, w = p_end - p, q_end - q, p - q
    uu, vv, uv = _dots(u, u), _dots(v, v), _dots(u, v)
    uw, vw = _dots(u, w), _dots(v, w)
    uu, vv = np.maximum(uu, 1e-30), np.maximum(vv, 1e-30)
    across = uu * vv - uv**2
    s = np.where(across > 1e-12 * uu * vv, (uv * vw - uw * vv) / np.where(across == 0, 1.0, across), 0.0).clip(0, 1)
    t = (uv * s + vw) / vv
    s = np.where((t < 0) | (t > 1), (uv * t.clip(0, 1) - uw) / uu, s).clip(0, 1)
    t = t.clip(0, 1)
    return p + u * s[:, None], q + v * t[:, None]


def _dots(a: Points, b: Points) -> Points:
    """The product of each pair of vectors (n, 3); several times as quick as multiplying and adding along an axis."""
    found: Points = np.einsum("ij,ij->i", a, b)
    return found


def _crossed(a: Points, b: Points) -> Points:
    """The vector product of each pair of vectors (n, 3), without the moving about of axes that np.cross does."""
    found = np.empty_like(a)
    for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        found[:, i] = a[:, j] * b[:, k] - a[:, k] * b[:, j]
    return found
