"""Whether a part goes into the small parts cylinder of 16 CFR 1501.4; not whether a toy is safe.

The cylinder is 31.7 mm across, and its bottom slopes from 25.4 to 57.1 mm below its open top. A part is tried
along the axes of the build and along its own, both ends first, turned about the axis of the cylinder.
"""

import numpy as np
from numpy.typing import NDArray

from planbook.handbook import limit
from planbook.solids import Solid

Floats = NDArray[np.float64]
TURNS = 24
"""A part is turned about the axis of the cylinder in so many steps."""
ROUNDS = 400
"""Steps towards the middle of the smallest circle (Badoiu and Clarkson 2003): within a hundredth of its radius."""


def goes_into_cylinder(solid: Solid) -> bool:
    """Whether a solid goes into the small parts cylinder whole, in one of the positions tried."""
    corners, _ = solid.mesh
    longest = limit("small parts cylinder, most depth") + limit("small parts cylinder, diameter")
    if not len(corners) or max(solid.extent) > longest:
        return False
    middle = corners.mean(axis=0)
    _, _, own = np.linalg.svd(corners - middle, full_matrices=False)
    ways = [*np.eye(3), *own]
    return any(_fits(corners - middle, sign * way) for way in ways for sign in (-1.0, 1.0))


def _fits(corners: Floats, way: Floats) -> bool:
    """Whether the corners go in when the part is let down against a direction."""
    radius = limit("small parts cylinder, diameter") / 2
    least, most = limit("small parts cylinder, least depth"), limit("small parts cylinder, most depth")
    depths = (corners @ way).max() - corners @ way
    if depths.max() > most:
        return False
    u = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
    u /= np.linalg.norm(u)
    flat = np.column_stack([corners @ u, corners @ np.cross(way, u)])
    flat = flat - _centre(flat)
    slack = radius - float(np.linalg.norm(flat, axis=1).max())
    if slack < 0:
        return False
    slope = (most - least) / (2 * radius)
    for turn in np.linspace(0.0, 2 * np.pi, TURNS, endpoint=False):
        # The part is pushed as far as it goes to the side where the cylinder is deep.
        across = flat @ np.array([np.cos(turn), np.sin(turn)]) + slack
        if (depths <= least + slope * (across + radius) + 1e-9).all():
            return True
    return False


def _centre(points: Floats) -> Floats:
    """The middle of the smallest circle around points."""
    centre: Floats = points.mean(axis=0)
    for step in range(1, ROUNDS + 1):
        farthest = points[int(np.argmax(((points - centre) ** 2).sum(axis=1)))]
        centre = centre + (farthest - centre) / (step + 1)
    return centre
