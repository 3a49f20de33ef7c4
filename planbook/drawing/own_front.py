"""Which parts of a smooth surface lie behind the same surface, and so are not to be taken for what is seen of it.

A face rounded all along its rim is one smooth surface with what goes back from there, such as a ledge behind it: the
wood and the tone of the ledge would show on the face.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from planbook.drawing.surfaces import Floats, Ints, groups
from planbook.solids import Solid, Vec3
from planbook.solids.hatch import within
from planbook.solids.uncovered import touched, uncovered
from planbook.solids.visible import Patch, View
from planbook.solids.visible_front import Front, front_of

Surface = tuple[int, int]
"""A smooth surface: the number of its solid, and its own number there."""

OFF = 0.05
"""A surface is before a point if it is more than so many mm nearer to the eye."""
ALL = 0.999
"""A surface of which this share is seen hides nothing of itself."""
ONCE = 1.002
"""Where triangles have no more than so many times the area that is seen of them, they lie there once."""
AIR = 1.0
"""Between two surfaces that are asked in one go, mm of the view."""


@dataclass(frozen=True, eq=False, slots=True)
class Folds:
    """The surfaces of a picture that hide something of themselves, and what stands before what of each.

    To be asked in one go they lie beside each other: `aside` is how far each is moved, mm of the world.
    """

    front: Front
    aside: Mapping[Surface, Floats]


def in_front(folded: Folds, surfaces: Sequence[Surface], parts: Floats) -> tuple[Ints, Floats, Ints]:
    """What of triangles (n,3,3), each of one of the surfaces (n,), no other part of its surface lies before.

    The numbers of those that are whole as their surface has no folds come first. The others come as shares of the
    corners of a triangle, as `uncovered` tells them, with its number. All is as the solids stand unmoved.
    """
    asked = np.array([surface in folded.aside for surface in surfaces], dtype=np.bool_)
    mine, rest = np.flatnonzero(asked), np.flatnonzero(~asked)
    aside = np.array([folded.aside[surfaces[k]] for k in mine.tolist()]).reshape(-1, 1, 3)
    shares, source = uncovered(folded.front, parts[mine] + aside, OFF)
    return rest, shares, mine[source]


def folds(patches: Sequence[Patch], solids: Sequence[tuple[Solid, Vec3]], view: View) -> Folds:
    """Those of the surfaces of which patches are seen that hide something of themselves.

    The solids are each moved by a vector in mm.
    """
    asked = [(patch, *found) for patch in patches if (found := _doubtful(patch, *solids[int(patch.body)], view))]
    right = np.asarray(view.right)
    reach = max((float(np.ptp(corners @ right)) for _, corners, _ in asked), default=0.0) + AIR
    aside = [((k * reach) - float((corners @ right).min())) * right for k, (_, corners, _) in enumerate(asked)]
    none = np.zeros((0, 3, 3))
    front = front_of(np.concatenate([none, *(c + by for (_, c, _), by in zip(asked, aside, strict=True))]), view)
    there = [corners[seen] + by for (_, corners, seen), by in zip(asked, aside, strict=True)]
    owner = np.repeat(np.arange(len(asked)), [len(each) for each in there])
    hides = np.bincount(owner, touched(front, np.concatenate([none, *there]), OFF), len(asked)) > 0
    names = [(int(patch.body), patch.tag) for patch, _, _ in asked]
    return Folds(front, {name: by for name, by, folded in zip(names, aside, hides, strict=True) if folded})


def _doubtful(patch: Patch, solid: Solid, by: Vec3, view: View) -> tuple[Floats, Ints] | None:
    """The triangles (n,3,3) of a surface that face the eye, and which lie where it is seen.

    None if they lie there once.
    """
    known = groups(solid)
    facing = known.normals @ np.asarray(view.toward)
    mine = np.flatnonzero((known.tags == patch.tag) & (facing > 0))
    sizes = known.areas[mine] * facing[mine]
    if patch.area >= ALL * sizes.sum():
        return None
    vertices, triangles = solid.mesh
    corners: Floats = vertices[triangles[mine]]
    middles = (corners.mean(axis=1) + np.asarray(by)) @ np.array([view.right, view.up]).T
    there = np.flatnonzero(within(patch.polygons, middles))
    return (corners, there) if sizes[there].sum() > ONCE * patch.area else None
