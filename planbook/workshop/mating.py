"""Where faces of pieces lie on one another across an axis, as glued joints do; knows no operation and no picture."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planbook.solids import Area, Frame, Solid
from planbook.solids.solid import SKIN

NEAR = 1.5e-3
"""Faces no further apart than this, mm, lie on one another."""
LEAST = 4.0
"""What is smaller than this, mm2, is no joint."""
LEVEL = 0.9999
"""Least cosine between the axis and a face across it."""


@dataclass(frozen=True, eq=False, slots=True)
class Contact:
    """Where piece number `below` ends along the axis of a frame, at a `level` in mm, and number `above` begins."""

    below: int
    above: int
    level: float
    area: Area


def contacts(solids: Sequence[Solid], frame: Frame) -> list[Contact]:
    """All places where a solid lies on another one across the axis of a frame; `area` is in (u, v) of it, mm."""
    tops, bottoms = ([_levels(solid, frame, sign) for solid in solids] for sign in (1.0, -1.0))
    found = []
    for below, ends in enumerate(tops):
        for above, begins in enumerate(bottoms):
            for level in ends if above != below else ():
                if any(abs(level - other) < NEAR for other in begins):
                    area = solids[below].section(frame, level - SKIN).meet(solids[above].section(frame, level + SKIN))
                    found += [Contact(below, above, level, area)] if area.size > LEAST else []
    return found


def _levels(solid: Solid, frame: Frame, sign: float) -> list[float]:
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
