"""How far the leaders of names would pass over other pieces, to choose the side on which each name stands."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from planbook.solids.hatch import grounds
from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2

LOOKS = 16
"""At so many places of a leader it is looked whether another piece lies there."""


def over_others(names: Sequence[tuple[Point2, Sequence[Polygon2]]], left: float, right: float) -> list[float]:
    """For each number of names on the left: the length over other pieces, as a share of the width, shared by all names.

    Names are given from the left, each by the spot where its leader ends and what it names; the drawing reaches from
    `left` to `right`, mm.
    """
    return [*_over_others(tuple((spot, tuple(polygons)) for spot, polygons in names), left, right)]


@lru_cache(maxsize=64)
def _over_others(
    names: tuple[tuple[Point2, tuple[Polygon2, ...]], ...], left: float, right: float
) -> tuple[float, ...]:
    ways = [_way_out(spot, edge) for spot, _ in names for edge in (left, right)]
    lies = grounds([polygons for _, polygons in names]).hold(np.reshape(ways, (-1, 2)))
    lies = lies.reshape(len(names), len(names), 2, LOOKS)
    lies[np.arange(len(names)), np.arange(len(names))] = False  # a leader may lie over what it names
    hits = lies.any(axis=0).reshape(-1, LOOKS).sum(axis=1).tolist()
    wide = max(right - left, 1e-6) * max(len(names), 1)
    steps = [abs(way[1][0] - way[0][0]) for way in ways]
    lengths = [step * hit / wide for step, hit in zip(steps, hits, strict=True)]
    return tuple(sum(lengths[: 2 * k : 2]) + sum(lengths[2 * k + 1 :: 2]) for k in range(len(names) + 1))


def _way_out(spot: Point2, edge: float) -> list[Point2]:
    """Places on a leader from a spot straight to an edge of the drawing."""
    return [(spot[0] + (edge - spot[0]) * (i + 0.5) / LOOKS, spot[1]) for i in range(LOOKS)]
