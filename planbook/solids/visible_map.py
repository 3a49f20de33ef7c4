"""The plane cut up by line segments: nodes, segments between them, cells on both sides; no depth here."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.columns import most
from planbook.solids.faces_mesh import Floats, Ints
from planbook.solids.visible_noded import node_keys, noded


@dataclass(frozen=True, eq=False, slots=True)
class Map:
    """`nodes` (n,2) in mm on a grid, `segments` (s,2) into nodes, `cells` (s,2) on both sides (-1 for none).

    A segment with no cell at all lies inside a cell or outside everything. `polygons` (c,) are the cells,
    `widths` (c,) their mean widths (twice area over perimeter).
    """

    nodes: Floats
    segments: Ints
    cells: Ints
    polygons: NDArray[np.object_]
    widths: Floats

    def middles(self) -> Floats:
        """Midpoints of the segments (s,2)."""
        middles: Floats = self.nodes[self.segments].mean(axis=1)
        return middles


def arrange(ends: Floats, grid: float) -> Map:
    """Cut segments (e,2,2) at every crossing, corners rounded to `grid`, and find the cells they enclose."""
    span = most(np.abs(ends[:, 1] - ends[:, 0]))
    steps = noded(ends[span > grid / 2], grid)
    key = node_keys(steps)
    known, where = np.unique(key, return_index=True)
    nodes = (steps.reshape(-1, 2)[where] * grid).astype(np.float64, copy=False)
    pair = np.sort(np.searchsorted(known, key), axis=1)
    codes = np.unique(pair[:, 0] * len(known) + pair[:, 1])
    segments = np.stack(np.divmod(codes, max(len(known), 1)), 1)
    polygons = shapely.get_parts(shapely.polygonize(shapely.linestrings(steps * grid)))
    cells = _sides(polygons, known, codes, grid)
    length = shapely.length(polygons)
    return Map(nodes, segments, cells, polygons, 2 * shapely.area(polygons) / np.where(length > 0, length, 1.0))


def _sides(polygons: NDArray[np.object_], known: Ints, codes: Ints, grid: float) -> Ints:
    """Cells on both sides of each segment, given the keys of the nodes and the codes of the segments."""
    rings, owner = shapely.get_rings(polygons, return_index=True)
    coords, ring = shapely.get_coordinates(rings, return_index=True)
    number = np.searchsorted(known, node_keys(np.rint(coords / grid).astype(np.int64)))
    inner = ring[1:] == ring[:-1]
    one, two = number[:-1][inner], number[1:][inner]
    segment = np.searchsorted(codes, np.minimum(one, two) * len(known) + np.maximum(one, two))
    cell = owner[ring[:-1][inner]]
    order = np.lexsort((cell, segment))
    segment, cell = segment[order], cell[order]
    again = np.zeros(len(segment), dtype=np.int64)
    again[1:] = segment[1:] == segment[:-1]
    sides = np.full((len(codes), 2), -1, dtype=np.int64)
    sides[segment, again] = cell
    return sides
