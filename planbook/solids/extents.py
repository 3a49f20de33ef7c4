"""Shapes that stand for the extent of points in a search tree; they are never drawn."""

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.columns import least, most


def extents(points: NDArray[np.float64], more: float = 0.0) -> NDArray[np.object_]:
    """A shape with the extent of each lot of points (n,k,2), `more` wider all round; made in half the time of a box."""
    low, high = least(points) - more, most(points) + more
    found: NDArray[np.object_] = shapely.linestrings(np.stack([low, high], 1))
    return found
