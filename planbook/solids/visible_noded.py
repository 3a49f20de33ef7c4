"""Line segments of the plane cut on a grid where they cross; most meet others at their ends only and stay whole."""

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.columns import every, some
from planbook.solids.extents import extents
from planbook.solids.faces_mesh import Bools, Floats, Ints

NEAR = 2.0
"""Segments that come this near to each other, in steps of the grid, may have to be cut."""


def noded(ends: Floats, grid: float) -> NDArray[np.object_]:
    """Segments (e,2,2) with corners rounded to `grid` and cut at every crossing, as lines; each is there once.

    Only those that cross or come within a step of others but at a common end are cut, on the grid, which is slow.
    """
    steps = np.floor(ends / grid + 0.5)
    _, first = np.unique(np.sort(node_keys(steps), axis=1), axis=0, return_index=True)
    first = first[some(steps[first, 0] != steps[first, 1])]
    if not len(first):
        return np.empty(0, dtype=np.object_)
    steps = steps[first]
    cut = _tangled(steps)
    parts = shapely.get_parts(shapely.union_all(shapely.linestrings(ends[first[cut]]), grid_size=grid))
    return np.concatenate([shapely.linestrings(steps[~cut] * grid), parts])


def node_keys(steps: NDArray[np.generic]) -> Ints:
    """One whole number per point (...,2) of the grid."""
    whole = steps.astype(np.int64)
    keys: Ints = whole[..., 0] * 2**31 + whole[..., 1]
    return keys


def _tangled(steps: Floats) -> Bools:
    """Which of different segments (e,2,2), in steps, touch or nearly touch another but with a common end."""
    boxes = extents(steps, 1.0)
    one, two = shapely.STRtree(boxes).query(boxes)
    once = one < two
    one, two = one[once], two[once]
    off_one, off_two = _off(steps[one], steps[two]), _off(steps[two], steps[one])
    near = ~(_beyond(off_one) | _beyond(off_two))
    one, two, off_one, off_two = one[near], two[near], off_one[near], off_two[near]
    tangled = np.zeros(len(steps), dtype=np.bool_)
    free = ~_only_join(steps[one], steps[two], off_one, off_two)
    tangled[one[free]] = tangled[two[free]] = True
    return tangled


def _off(segments: Floats, others: Floats) -> Floats:
    """How far the ends of others (n,2,2) are to the left of segments (n,2,2), in steps (n,2)."""
    way = segments[:, 1] - segments[:, 0]
    to = others - segments[:, :1]
    off: Floats = (way[:, None, 0] * to[:, :, 1] - way[:, None, 1] * to[:, :, 0]) / np.hypot(*way.T)[:, None]
    return off


def _beyond(off: Floats) -> Bools:
    """Whether both ends are well on one side."""
    return (np.minimum(off[:, 0], off[:, 1]) > NEAR) | (np.maximum(off[:, 0], off[:, 1]) < -NEAR)


def _only_join(one: Floats, two: Floats, off_one: Floats, off_two: Floats) -> Bools:
    """Whether two segments have a common end and go different ways from there."""
    found = np.zeros(len(one), dtype=np.bool_)
    for a in range(2):
        for b in range(2):
            common = every(one[:, a] == two[:, b])
            apart = (np.abs(off_one[:, 1 - b]) > NEAR) & (np.abs(off_two[:, 1 - a]) > NEAR)
            back = np.einsum("ij,ij->i", one[:, 1 - a] - one[:, a], two[:, 1 - b] - two[:, b]) < 0
            found |= common & (apart | back)
    return found
