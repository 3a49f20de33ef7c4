"""Which parts of a smooth surface lie behind the same surface, and so are not to be taken for what is seen of it.

A face rounded all along its rim is one smooth surface with what goes back from there, such as a ledge behind it: the
wood and the tone of the ledge would show on the face.
"""

from collections.abc import Sequence

import numpy as np

from planbook.drawing.surfaces import Floats, Ints, groups
from planbook.solids import Solid, Vec3
from planbook.solids.hatch import within
from planbook.solids.uncovered import any_covered, uncovered
from planbook.solids.visible import Polygon2, View
from planbook.solids.visible_front import Front, front_of

OFF = 0.05
"""A surface is before a point if it is more than so many mm nearer to the eye."""
ALL = 0.999
"""A surface of which this share is seen hides nothing of itself."""
ONCE = 1.002
"""Where triangles have no more than so many times the area that is seen of them, they lie there once."""


def own_front(
    standing: tuple[Solid, Vec3], surface: int, seen: Sequence[Polygon2], area: float, view: View
) -> Front | None:
    """The triangles of a curved surface of a solid, as it stands unmoved, or None if it hides nothing of itself.

    The solid is moved by a vector in mm; `seen` is what of the surface is in sight, `area` how much, mm2 of the view.
    """
    (solid, by), known = standing, groups(standing[0])
    mine = np.flatnonzero((known.tags == surface) & (known.normals @ np.asarray(view.toward) > 0))
    sizes = known.areas[mine] * (known.normals[mine] @ np.asarray(view.toward))
    if area >= ALL * sizes.sum():
        return None
    vertices, triangles = solid.mesh
    corners = vertices[triangles[mine]]
    middles = (corners.mean(axis=1) + np.asarray(by)) @ np.array([view.right, view.up]).T
    there = np.flatnonzero(within(seen, middles))
    if sizes[there].sum() <= ONCE * area:
        return None
    front = front_of(corners, view)
    return front if any_covered(front, corners[there], OFF) else None


def in_front(front: Front, parts: Floats) -> tuple[Floats, Ints]:
    """What of triangles (n,3,3) of a surface no other part of it lies before: shares of their corners, as `uncovered`
    tells them, and the triangle of each.
    """
    return uncovered(front, parts, OFF)
