"""Line segments of the plane cut on a grid where they cross; most meet others at their ends only and stay whole."""

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.columns import every, least, most, some
from planbook.solids.extents import extents
from planbook.solids.faces_mesh import Bools, Floats, Ints

NEAR = 2.0
"""Segments that come this near to each other, in steps of the grid, may have to be cut."""


def noded(ends: Floats, grid: float) -> Ints:
    """Segments (e,2,2) with corners rounded to `grid` and cut at every crossing (n,2,2), in steps; each is there once.

    Only those that cross or come within a step of others but at a common end are cut, on the grid.
    """
    exact = ends / grid
    steps = _rounded(exact)
    _, first = np.unique(np.sort(node_keys(steps), axis=1), axis=0, return_index=True)
    first = first[some(steps[first, 0] != steps[first, 1])]
    steps, exact = steps[first], exact[first]
    one, two, free = _meeting(steps)
    cut = np.zeros(len(steps), dtype=np.bool_)
    cut[one[free]] = cut[two[free]] = True
    number, both = np.cumsum(cut) - 1, cut[one] & cut[two]
    parts = _cut(exact[cut], number[one[both]], number[two[both]])
    return np.concatenate([steps[~cut], parts]).astype(np.int64)


def _rounded(points: Floats) -> Floats:
    found: Floats = np.floor(points + 0.5)
    return found


def _cut(ends: Floats, one: Ints, two: Ints) -> Floats:
    """Segments (e,2,2) cut in the steps in which they begin, end, or cross another; `one` and `two` are what may cross.

    All that pass through the square of a step with one of these go through its middle: then what is left crosses no
    more (snap rounding: Hobby 1999, Practical segment intersection with finite precision output).
    """
    if not len(ends):
        return ends
    pair, crossed = _crossings(ends[one], ends[two])
    own = np.arange(len(ends))
    of = np.concatenate([own, own, one[pair], two[pair]])
    at = np.concatenate([*_rounded(ends).transpose(1, 0, 2), crossed, crossed])
    _, where, node = np.unique(node_keys(at), return_index=True, return_inverse=True)
    nodes = at[where]
    passed, through = _passed(ends, nodes)
    of, node = np.concatenate([of, through]), np.concatenate([node.reshape(-1), passed])
    along = np.einsum("ij,ij->i", nodes[node] - ends[of, 0], ends[of, 1] - ends[of, 0])
    order = np.lexsort((along, of))
    of, node = of[order], node[order]
    pairs = np.sort(np.stack([node[:-1], node[1:]], 1)[(of[:-1] == of[1:]) & (node[:-1] != node[1:])], axis=1)
    codes = np.unique(pairs[:, 0] * len(nodes) + pairs[:, 1])
    found: Floats = nodes[np.stack(np.divmod(codes, len(nodes)), 1)]
    return found


def _crossings(one: Floats, two: Floats) -> tuple[Ints, Floats]:
    """Which pairs of segments (n,2,2) cross, and the step in which they do."""
    way, other, to = one[:, 1] - one[:, 0], two[:, 1] - two[:, 0], two[:, 0] - one[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        turn = way[:, 0] * other[:, 1] - way[:, 1] * other[:, 0]
        share = (to[:, 0] * other[:, 1] - to[:, 1] * other[:, 0]) / turn
        share_two = (to[:, 0] * way[:, 1] - to[:, 1] * way[:, 0]) / turn
        pair = np.flatnonzero((share >= 0) & (share <= 1) & (share_two >= 0) & (share_two <= 1))
    return pair, _rounded(one[pair, 0] + share[pair, None] * way[pair])


def _passed(ends: Floats, nodes: Floats) -> tuple[Ints, Ints]:
    """Pairs of a node (n,2) and a segment (e,2,2) that passes through its square, which has two of its sides."""
    node, segment = shapely.STRtree(extents(ends, 0.5)).query(shapely.points(nodes))
    from_node = ends[segment] - nodes[node, None]
    way = from_node[:, 1] - from_node[:, 0]
    off = from_node[:, 0, 0] * way[:, 1] - from_node[:, 0, 1] * way[:, 0]
    passes = np.abs(off) <= np.abs(way).sum(axis=1) / 2
    passes &= every(least(from_node) < 0.5) & every(most(from_node) >= -0.5)
    return node[passes], segment[passes]


def node_keys(steps: NDArray[np.generic]) -> Ints:
    """One whole number per point (...,2) of the grid."""
    whole = steps.astype(np.int64)
    keys: Ints = whole[..., 0] * 2**31 + whole[..., 1]
    return keys


def _meeting(steps: Floats) -> tuple[Ints, Ints, Bools]:
    """Pairs of different segments (e,2,2), in steps, that touch or nearly do, and which but with a common end."""
    boxes = extents(steps, 1.0)
    one, two = shapely.STRtree(boxes).query(boxes)
    once = one < two
    one, two = one[once], two[once]
    off_one, off_two = _off(steps[one], steps[two]), _off(steps[two], steps[one])
    near = ~(_beyond(off_one) | _beyond(off_two))
    one, two, off_one, off_two = one[near], two[near], off_one[near], off_two[near]
    return one, two, ~_only_join(steps[one], steps[two], off_one, off_two)


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
