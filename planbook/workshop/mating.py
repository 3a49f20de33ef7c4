"""Where faces of pieces lie on one another across an axis, as glued joints do; knows no operation and no picture."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from planbook.solids import Area, Frame, Solid

NEAR = 1.5e-3
"""Faces no further apart than this, mm, lie on one another."""
INTO = 2e-3
"""So far inside of a face, whose level is known to a thousandth, its piece is looked at, mm."""
LEAST = 4.0
"""What is smaller than this, mm2, is no joint."""
LEVEL = 0.9999
"""Least cosine between the axis and a face across it."""


@dataclass(frozen=True, eq=False, slots=True)
class Contact:
    """Where piece number `below` ends along the axis of a frame, at a `level` in mm, and number `above` begins.

    `gap` is the air between them, mm.
    """

    below: int
    above: int
    level: float
    area: Area
    gap: float = 0.0


def contacts(solids: Sequence[Solid], frame: Frame, play: float = NEAR) -> list[Contact]:
    """All places where a solid lies on another one across the axis of a frame; `area` is in (u, v) of it, mm.

    Faces with less than `play` mm of air between them lie on one another.
    """
    tops, bottoms = ([levels(solid, frame, sign) for solid in solids] for sign in (1.0, -1.0))
    found = []
    for below, ends in enumerate(tops):
        for above, begins in enumerate(bottoms):
            for level, start in product(ends, begins) if above != below else ():
                if -NEAR < start - level < play:
                    area = solids[below].section(frame, level - INTO).meet(solids[above].section(frame, start + INTO))
                    gap = max(0.0, start - level)
                    found += [Contact(below, above, level, area, gap)] if area.size > LEAST else []
    return found


def levels(solid: Solid, frame: Frame, sign: float) -> list[float]:
    """Where flat faces of a solid across the axis lie along it, mm, of those that look along it (or back: -1)."""
    vertices, triangles = solid.mesh
    corners = vertices[triangles]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(cross, axis=1)
    there = sign * (cross @ np.array(frame.n)) > LEVEL * size
    level = np.round((corners[there, 0] - np.array(frame.origin)) @ np.array(frame.n), 3)
    each, where = np.unique(level, return_inverse=True)
    areas = np.bincount(where, size[there] / 2, len(each))
    return [float(one) for one, area in zip(each.tolist(), areas.tolist(), strict=True) if area > LEAST]
