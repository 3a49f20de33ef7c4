"""Shapes that stand for the extent of points in a search tree; they are never drawn."""

import numpy as np
import shapely
from numpy.typing import NDArray


def extents(points: NDArray[np.float64], more: float = 0.0) -> NDArray[np.object_]:
    """A shape with the extent of each lot of points (n,k,2), `more` wider all round; made in half the time of a box."""
    low, high = points.min(axis=1, initial=np.inf) - more, points.max(axis=1, initial=-np.inf) + more
    found: NDArray[np.object_] = shapely.linestrings(np.stack([low, high], 1))
    return found
