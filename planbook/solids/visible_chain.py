"""Joins short segments into long polylines and drops the points that lie on a straight line."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.faces_mesh import Floats, Ints

Polyline = tuple[tuple[float, float], ...]

STRAIGHT = 0.94
"""Where more than two segments meet, two are one line if the cosine of the turn is at least this."""


def chains(nodes: Floats, segments: Ints) -> list[Ints]:
    """Polylines as node numbers; a closed one ends with its first node. Every segment is used once."""
    partner = _partners(nodes, segments)
    used = np.zeros(len(segments), dtype=np.bool_).tolist()
    pairs = segments.tolist()
    free = [s for s in range(len(pairs)) if partner[2 * s] < 0 or partner[2 * s + 1] < 0]
    order = [*free, *range(len(pairs))]
    return [_walk(pairs, partner, used, first) for first in order if not used[first]]


def straightened(nodes: Floats, chains: Sequence[Ints], tolerance: float, least: float) -> list[Polyline]:
    """Points of chains without those within `tolerance` of the straight line between their neighbours.

    Chains that keep within a square with sides of `least` are left out.
    """
    if not chains:
        return []
    turned = [_from_corner(nodes, chain) if len(chain) > 3 and chain[0] == chain[-1] else chain for chain in chains]
    chain = np.repeat(np.arange(len(turned)), [len(each) for each in turned])
    kept = shapely.simplify(
        shapely.linestrings(nodes[np.concatenate(turned)], indices=chain), tolerance, preserve_topology=False
    )
    left, low, right, high = shapely.bounds(kept).T
    return polylines(kept[np.maximum(right - left, high - low) > least])


def polylines(lines: NDArray[np.object_]) -> list[Polyline]:
    """The points of each line or ring."""
    coordinates, line = shapely.get_coordinates(lines, return_index=True)
    points = list(zip(*(coordinates + 0.0).T.tolist(), strict=True))
    ends = np.searchsorted(line, np.arange(len(lines) + 1)).tolist()
    return [tuple(points[start:end]) for start, end in pairwise(ends)]


def _from_corner(nodes: Floats, chain: Ints) -> Ints:
    """A closed chain that begins where it turns most."""
    corner = _sharpest(nodes[chain[:-1]])
    return np.concatenate([chain[corner:-1], chain[: corner + 1]])


def _sharpest(ring: Floats) -> int:
    """Where a closed ring (first point not repeated) turns most; the first of equals."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    dot = np.einsum("ij,ij->i", before, after)
    size = np.hypot(*before.T) * np.hypot(*after.T)
    return int(np.argmin(np.round(dot / np.where(size > 0, size, 1.0), 6)))


def _partners(nodes: Floats, segments: Ints) -> list[int]:
    """For each end (2·segment + 0 or 1) the end it goes on with, -1 for none."""
    partner = np.full(2 * len(segments), -1)
    node = segments.reshape(-1)
    order = np.argsort(node, kind="stable")
    cuts = np.flatnonzero(np.diff(node[order], prepend=-1))
    degree = np.diff(np.r_[cuts, len(node)])
    simple = cuts[degree == 2]
    one, two = order[simple], order[simple + 1] if len(simple) else order[simple]
    partner[one], partner[two] = two, one
    away = nodes[segments[:, ::-1].reshape(-1)] - nodes[node]
    away /= np.maximum(np.hypot(*away.T), 1e-300)[:, None]
    for start, count in zip(cuts[degree > 2].tolist(), degree[degree > 2].tolist(), strict=True):
        _pair_straight(order[start : start + count], away, partner)
    found: list[int] = partner.tolist()
    return found


def _pair_straight(ends: Ints, away: Floats, partner: Ints) -> None:
    """Pair the ends that meet in one point and go straight on, straightest first."""
    straight = -(away[ends] @ away[ends].T)
    one, two = np.triu_indices(len(ends), 1)
    for k in np.argsort(-np.round(straight[one, two], 6), kind="stable").tolist():
        a, b = ends[one[k]], ends[two[k]]
        if straight[one[k], two[k]] < STRAIGHT:
            return
        if partner[a] < 0 and partner[b] < 0:
            partner[a], partner[b] = b, a


def _walk(pairs: list[list[int]], partner: list[int], used: list[bool], first: int) -> Ints:
    """Follow the line through segment `first` from a free end of it (or all the way round)."""
    end = 2 * first if partner[2 * first] < 0 else 2 * first + 1
    chain = [pairs[first][end % 2]]
    segment = first
    while not used[segment]:
        used[segment] = True
        exit_end = end ^ 1
        chain.append(pairs[segment][exit_end % 2])
        if partner[exit_end] < 0:
            break
        end = partner[exit_end]
        segment = end // 2
    return np.array(chain)
