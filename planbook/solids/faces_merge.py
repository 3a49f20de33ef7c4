"""Unites polygons that lie side by side; for the polygons of faces and pictures only."""

import numpy as np
import shapely
from numpy.typing import NDArray


def merged(polygons: NDArray[np.object_], grid: float) -> list[shapely.Polygon]:
    """Polygons covered by an array of polygons that share sides but do not overlap, in a fixed order.

    Where rounding made neighbours overlap, corners are moved to multiples of `grid`.
    """
    if len(polygons) == 1:
        return [polygons[0]]
    try:
        shape = shapely.coverage_union_all(polygons)
    except shapely.errors.GEOSException:  # sides that do not fit exactly, as between needles
        shape = shapely.union_all(shapely.make_valid(polygons), grid_size=grid)
    parts = shapely.get_parts(shapely.normalize(shape))
    return [part for part in parts if part.geom_type == "Polygon"]
