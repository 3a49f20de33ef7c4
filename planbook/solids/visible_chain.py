"""Joins short segments into long polylines and drops the points that lie on a straight line."""

from collections.abc import Sequence
from itertools import chain as together
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.faces_mesh import Floats, Ints

Polyline = tuple[tuple[float, float], ...]

STRAIGHT = 0.94
"""Where more than two segments meet, two are one line if the cosine of the turn is at least this."""


def chains(nodes: Floats, segments: Ints, lots: Ints) -> tuple[list[list[int]], list[int]]:
    """Polylines as node numbers, and the lot of each; a closed one ends with its first node. Each segment is used once.

    Segments (s,2) of different lots (s,) do not join. Chains come in the order of their lots.
    """
    partner = _partners(nodes, segments, lots)
    used = [False] * len(segments)
    pairs = segments.tolist()
    free = [s for s in range(len(pairs)) if partner[2 * s] < 0 or partner[2 * s + 1] < 0]
    firsts, found = list[int](), list[list[int]]()
    for first in (*free, *range(len(pairs))):
        if not used[first]:
            firsts.append(first)
            found.append(_walk(pairs, partner, used, first))
    order = np.argsort(lots[firsts], kind="stable").tolist() if firsts else []
    return [found[k] for k in order], [int(lots[firsts[k]]) for k in order]


def straightened(
    nodes: Floats, chains: Sequence[Sequence[int]], tolerance: float, least: float
) -> list[tuple[int, Polyline]]:
    """Points of chains without those within `tolerance` of the straight line between their neighbours.

    With each comes the number of its chain; those that keep within a square with sides of `least` are left out.
    """
    if not chains:
        return []
    turned = [_from_corner(nodes, chain) if len(chain) > 3 and chain[0] == chain[-1] else chain for chain in chains]
    chain = np.repeat(np.arange(len(turned)), [len(each) for each in turned])
    points = np.fromiter(together.from_iterable(turned), dtype=np.int64, count=len(chain))
    kept = shapely.simplify(shapely.linestrings(nodes[points], indices=chain), tolerance, preserve_topology=False)
    left, low, right, high = shapely.bounds(kept).T
    large = np.flatnonzero(np.maximum(right - left, high - low) > least)
    return list(zip(large.tolist(), polylines(kept[large]), strict=True))


def polylines(lines: NDArray[np.object_]) -> list[Polyline]:
    """The points of each line or ring."""
    coordinates, line = shapely.get_coordinates(lines, return_index=True)
    points = list(zip(*(coordinates + 0.0).T.tolist(), strict=True))
    ends = np.searchsorted(line, np.arange(len(lines) + 1)).tolist()
    return [tuple(points[start:end]) for start, end in pairwise(ends)]


def _from_corner(nodes: Floats, chain: Sequence[int]) -> Sequence[int]:
    """A closed chain that begins where it turns most."""
    corner = _sharpest(nodes[np.asarray(chain[:-1])])
    return [*chain[corner:-1], *chain[: corner + 1]]


def _sharpest(ring: Floats) -> int:
    """Where a closed ring (first point not repeated) turns most; the first of equals."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    dot = np.einsum("ij,ij->i", before, after)
    size = np.hypot(*before.T) * np.hypot(*after.T)
    return int(np.argmin(np.round(dot / np.where(size > 0, size, 1.0), 6)))


def _partners(nodes: Floats, segments: Ints, lots: Ints) -> list[int]:
    """For each end (2·segment + 0 or 1) the end it goes on with, -1 for none."""
    partner = np.full(2 * len(segments), -1)
    node = segments.reshape(-1)
    place = np.repeat(lots, 2) * len(nodes) + node
    order = np.argsort(place, kind="stable")
    cuts = np.flatnonzero(np.diff(place[order], prepend=-1))
    degree = np.diff(np.r_[cuts, len(node)])
    simple = cuts[degree == 2]
    one, two = order[simple], order[simple + 1] if len(simple) else order[simple]
    partner[one], partner[two] = two, one
    away = nodes[segments[:, ::-1].reshape(-1)] - nodes[node]
    away /= np.maximum(np.hypot(*away.T), 1e-300)[:, None]
    for count in np.unique(degree[degree > 2]).tolist():
        _pair_straight(order[cuts[degree == count][:, None] + np.arange(count)], away, partner)
    found: list[int] = partner.tolist()
    return found


def _pair_straight(ends: Ints, away: Floats, partner: Ints) -> None:
    """Pair the ends (p,k) that meet in each of p points and go straight on, straightest first."""
    one, two = (ends[:, side] for side in np.triu_indices(ends.shape[1], 1))
    straight = -np.einsum("ijk,ijk->ij", away[one], away[two])
    order = np.argsort(-np.round(straight, 6), axis=1, kind="stable")
    for rank in order.T:
        point = np.arange(len(ends))
        a, b, good = one[point, rank], two[point, rank], straight[point, rank] >= STRAIGHT
        good &= (partner[a] < 0) & (partner[b] < 0)
        partner[a[good]], partner[b[good]] = b[good], a[good]


def _walk(pairs: list[list[int]], partner: list[int], used: list[bool], first: int) -> list[int]:
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
    return chain
