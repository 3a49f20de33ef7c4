"""Whether points of the world lie behind triangles, many points at once; it draws nothing."""

from dataclasses import dataclass

import numpy as np
import shapely

from planbook.solids.columns import every, least, most
from planbook.solids.extents import extents
from planbook.solids.faces_mesh import Bools, Floats, Ints
from planbook.solids.visible_view import View, frame_of

CHUNK = 2_000
EDGE = 1e-9
"""A point this far outside a side of a triangle, as a share of its height, still lies on it."""
SLACK = 1e-3
"""A point is looked at closely if it is no further than this outside a side or above the highest corner, mm."""
_NEXT = (1, 2, 0)


@dataclass(frozen=True, eq=False, slots=True)
class Front:
    """Triangles that face the eye, in the frame of a view (f,3,3), in a tree by their boxes.

    All lie within a box between `low` and `high` (3,), infinite without any. `tops` are the heights of their highest
    corners (f,), `sides` (3,3,f) the lines through their sides: a, b and c, of
    which a·u + b·v + c is how far inside a point lies, mm.
    """

    frame: Floats
    corners: Floats
    tops: Floats
    sides: Floats
    low: Floats
    high: Floats
    tree: shapely.STRtree

    def hidden(self, points: Floats, off: float) -> Bools:
        """Which points of the world (n,3) have a triangle more than `off` mm before them (n,)."""
        return self.before(points @ self.frame.T, off)

    def before(self, seen: Floats, off: float) -> Bools:
        """The same of points in the frame of the view."""
        found = np.zeros(len(seen), dtype=np.bool_)
        for start in range(0, len(seen), CHUNK):
            part = seen[start : start + CHUNK]
            point, triangle = self._near(part, off)
            before = self._before(part[point], triangle, off)
            found[start + point[before]] = True
        return found

    def _near(self, points: Floats, off: float) -> tuple[Ints, Ints]:
        """Pairs of a point and a triangle that may be before it, by numbers: most that the tree finds are not."""
        point, triangle = self.tree.query(shapely.points(points[:, :2]))
        u, v, height = np.ascontiguousarray(points.T)
        near = self.tops[triangle] > height[point] + (off - SLACK)
        for a, b, c in self.sides:
            point, triangle = point[near], triangle[near]
            near = a[triangle] * u[point] + b[triangle] * v[point] + c[triangle] > -SLACK
        return point[near], triangle[near]

    def _before(self, points: Floats, triangles: Ints, off: float) -> Bools:
        corner = self.corners[triangles]
        side = corner[:, _NEXT] - corner
        offset = points[:, None, :] - corner
        twice = side[:, :, 0] * offset[:, :, 1] - side[:, :, 1] * offset[:, :, 0]
        whole = twice.sum(axis=1)
        inside = every(twice >= -EDGE * whole[:, None])
        depth = np.einsum("ij,ij->i", twice[:, _NEXT] / whole[:, None], corner[:, :, 2])
        before: Bools = inside & (depth > points[:, 2] + off)
        return before


@dataclass(frozen=True, eq=False, slots=True)
class Fronts:
    """Several fronts of one view, each moved by a vector of its frame (3,), mm: where things are moved, theirs stay."""

    frame: Floats
    moved: tuple[tuple[Front, Floats], ...]

    def hidden(self, points: Floats, off: float) -> Bools:
        """Which points of the world (n,3) have a triangle of any more than `off` mm before them (n,)."""
        seen = points @ self.frame.T
        found = np.zeros(len(points), dtype=np.bool_)
        for front, by in self.moved:
            at = seen - by
            near = ~found & every(at[:, :2] >= front.low[:2]) & every(at <= front.high - (0.0, 0.0, off))
            found[near] = front.before(at[near], off)
        return found


def front_of(corners: Floats, view: View) -> Front:
    """The triangles (n,3,3) of the world that face the eye of a view."""
    return _front(_facing(corners, view), view)


def _front(corners: Floats, view: View) -> Front:
    """Triangles (f,3,3) that face the eye of a view, given in its frame."""
    flat = corners[:, :, :2]
    low, high = least(corners), most(corners)
    box = low.min(axis=0, initial=np.inf) - SLACK, high.max(axis=0, initial=-np.inf) + SLACK
    return Front(frame_of(view), corners, high[:, 2].copy(), _sides(flat), *box, shapely.STRtree(extents(flat)))


def _facing(corners: Floats, view: View) -> Floats:
    """Those of the triangles (n,3,3) of the world that face the eye, in the frame of the view."""
    seen: Floats = np.dot(corners, frame_of(view).T)  # in one go; with @ each triangle would be turned by itself
    one, two = seen[:, 1] - seen[:, 0], seen[:, 2] - seen[:, 0]
    return seen[one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] > 1e-9]


def _sides(corners: Floats) -> Floats:
    """The lines through the sides of plane triangles (f,3,2), as `Front` has them."""
    u, v = corners.T
    right, up = (np.roll(each, -1, axis=0) - each for each in (u, v))
    size = np.hypot(right, up)
    found: Floats = np.stack([-up, right, up * u - right * v], axis=1) / size[:, None]
    return found
