"""Triangles: their planes, and cut where something that is known at their corners passes zero; it knows no pieces."""

import numpy as np
from numpy.typing import NDArray

from planbook.solids.columns import every, most, some

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def above_zero(corners: Floats, values: Floats) -> tuple[Floats, Ints]:
    """The parts of triangles (n,3,d) where values (n,3), linear between the corners, are not below zero.

    They come as triangles again, with the number of the triangle that each came from. Triangles that share an edge
    are cut in the same point of it, to the last bit. What would be a line or a point is left out.
    """
    within = values >= 0
    count = within[:, 0].astype(np.int64) + within[:, 1] + within[:, 2]
    whole = np.flatnonzero((count == 3) & some(values > 0) | every(values == 0))
    one, two = np.flatnonzero(count == 1), np.flatnonzero(count == 2)
    tips = _tips(corners, values, one, within[one].argmax(axis=1))
    rests = _rests(corners, values, two, (~within[two]).argmax(axis=1))
    parts = np.concatenate([corners[whole], tips, rests])
    return parts, np.concatenate([whole, one, two, two])


def _tips(corners: Floats, values: Floats, at: Ints, inner: Ints) -> Floats:
    """Triangles with one corner within: that corner and the two points where the edges from it leave."""
    following, last = (inner + 1) % 3, (inner + 2) % 3
    found: Floats = np.stack(
        [
            corners[at, inner],
            _crossed(corners, values, at, inner, following),
            _crossed(corners, values, at, inner, last),
        ],
        axis=1,
    )
    return found


def _rests(corners: Floats, values: Floats, at: Ints, outer: Ints) -> Floats:
    """Triangles with two corners within: the four-cornered rest as two triangles each."""
    following, last = (outer + 1) % 3, (outer + 2) % 3
    here, there = corners[at, following], corners[at, last]
    leaves, enters = (_crossed(corners, values, at, inner, outer) for inner in (last, following))
    return np.concatenate([np.stack([here, there, leaves], axis=1), np.stack([here, leaves, enters], axis=1)])


def _crossed(corners: Floats, values: Floats, at: Ints, inner: Ints, outer: Ints) -> Floats:
    """Where the value passes zero on the way from a corner within to one outside."""
    start, end = values[at, inner], values[at, outer]
    share = start / (start - end)
    found: Floats = corners[at, inner] + share[:, None] * (corners[at, outer] - corners[at, inner])
    return found


def overlapping(one: Floats, two: Floats, slack: float = 0.0) -> Ints:
    """Of pairs of plane triangles (k,3,2), all turned left round, the numbers of those that overlap.

    Those do of which neither has a side with all of the other beyond it, or no more than `slack` mm within it.
    """
    found = np.arange(len(one))
    for ours, theirs in ((one, two), (two, one)):
        for start, end in ((0, 1), (1, 2), (2, 0)):  # most are told apart by one of the first
            corner, others = ours[found, start], theirs[found]
            right, up = (ours[found, end] - corner).T
            inward = right[:, None] * (others[..., 1] - corner[:, None, 1])
            inward -= up[:, None] * (others[..., 0] - corner[:, None, 0])
            found = found[most(inward) > slack * np.hypot(right, up)]
    return found


def planes(corners: Floats) -> tuple[Floats, Floats, Floats]:
    """Of triangles (n,3,3) the unit normals (n,3), offsets in mm (n,) and areas in mm2 (n,); no normal without area."""
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(cross, axis=1)
    normal: Floats = cross / np.where(size > 0, size, 1.0)[:, None]
    return normal, np.einsum("ij,ij->i", normal, corners.mean(axis=1)), size / 2
