"""The parts of triangles that are not behind others, exact where a corner is; it draws nothing."""

import numpy as np
import shapely

from planbook.solids.columns import every, least, like, most, some
from planbook.solids.extents import extents
from planbook.solids.faces_mesh import Bools, Floats, Ints
from planbook.solids.shares import all_joined
from planbook.solids.triangles import above_zero, overlapping
from planbook.solids.visible_front import Front

STEEP = 1e-9
"""A triangle of no more area in the view, mm2, is seen on its edge and left as it is."""
SLACK = 1e-4
"""What reaches no further than this into a triangle, mm, covers nothing of it."""


def uncovered(front: Front, corners: Floats, off: float) -> tuple[Floats, Ints]:
    """The parts of triangles of the world (n,3,3) that nothing of a front lies more than `off` mm before.

    They come as triangles, given by the shares (m,3,3) that the corners of the triangle they came from, by number
    (m,), have in each of theirs: whatever is linear between its corners follows from these.
    """
    seen: Floats = np.dot(corners, front.frame.T)
    whole = np.broadcast_to(np.eye(3), seen.shape)
    hidden = _hidden_corners(front, corners, off)
    partly = np.flatnonzero(some(hidden) & ~_hidden_wholly(front, corners, hidden, off))
    free = np.flatnonzero(~some(hidden))
    covered, cover = _covers(front, seen[partly], off)
    if not len(covered):
        rest = np.union1d(free, partly)
        return whole[rest], rest
    starts = np.flatnonzero(np.diff(covered, prepend=-1))
    cut = partly[covered[starts]]
    over = all_joined(cover, np.split(np.arange(len(cover)), starts[1:]))
    left, of = shapely.get_parts(shapely.difference(shapely.polygons(seen[cut, :, :2]), over), return_index=True)
    pieces, piece = shapely.get_parts(shapely.constrained_delaunay_triangles(left), return_index=True)
    source = cut[of[piece]]
    points = shapely.get_coordinates(pieces).reshape(-1, 4, 2)[:, :3]
    rest = np.union1d(free, np.setdiff1d(partly, cut))
    return np.concatenate([whole[rest], _shares(points, seen[source])]), np.concatenate([rest, source])


def touched(front: Front, corners: Floats, off: float) -> Bools:
    """Which of these triangles (n,) have a corner that something of a front lies before."""
    return some(_hidden_corners(front, corners, off))


def _hidden_corners(front: Front, corners: Floats, off: float) -> Bools:
    """Which corners of triangles (n,3) are hidden: each is asked once, of all triangles that meet there."""
    points = corners.reshape(-1, 3)
    order, starts = like(points)
    found = np.zeros(len(points), dtype=np.bool_)
    found[order] = front.hidden(points[order[starts]], off)[np.cumsum(starts) - 1]
    return found.reshape(-1, 3)


def _hidden_wholly(front: Front, corners: Floats, hidden: Bools, off: float) -> Bools:
    """Which triangles (n,) are hidden at all corners and in the middle."""
    found = every(hidden)
    there = np.flatnonzero(found)
    found[there] = front.hidden(corners[there].mean(axis=1), off)
    return found


def _covers(front: Front, seen: Floats, off: float) -> tuple[Ints, Floats]:
    """Triangles (k,3,2) before others (n,3,3), all in the frame of the view, in the order of those that they hide.

    The number (k,) of what each hides comes first.
    """
    own, other = front.tree.query(extents(seen[:, :, :2]))
    near = front.tops[other] > least(seen[:, :, 2:])[own, 0] + off
    own, other = own[near], other[near]
    heights, level = _heights(seen[own], front.corners[other, :, :2])
    before = front.corners[other, :, 2] - heights - off
    some = np.flatnonzero(level & (most(before) > 0))  # few are, and that is found sooner than what overlaps
    own, other, before = own[some], other[some], before[some]
    meet = overlapping(seen[own, :, :2], front.corners[other, :, :2], SLACK)
    own, other, before = own[meet], other[meet], before[meet]
    parts, of = above_zero(front.corners[other, :, :2], before)
    meet = overlapping(seen[own[of], :, :2], parts, SLACK)
    meet = meet[np.argsort(own[of[meet]], kind="stable")]
    return own[of[meet]], parts[meet]


def _heights(triangles: Floats, points: Floats) -> tuple[Floats, Bools]:
    """How high the planes of triangles (k,3,3) are at points (k,3,2), and which of them are not seen on their edge."""
    one, two = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    normal = np.cross(one, two)
    level = np.abs(normal[:, 2]) > STEEP
    rise = -normal[:, :2] / np.where(level, normal[:, 2], 1.0)[:, None]
    to = points - triangles[:, :1, :2]
    heights: Floats = triangles[:, :1, 2] + np.einsum("kij,kj->ki", to, rise)
    return heights, level


def _shares(points: Floats, triangles: Floats) -> Floats:
    """The shares that the corners of triangles (m,3,3) have in points (m,3,2) in their planes."""
    start = triangles[:, 0, :2]
    sides = np.stack([triangles[:, 1, :2] - start, triangles[:, 2, :2] - start], axis=2)
    rest = np.einsum("mij,mkj->mki", np.linalg.inv(sides), points - start[:, None])
    found: Floats = np.concatenate([1.0 - rest.sum(axis=2, keepdims=True), rest], axis=2)
    return found
