"""Facets of a round surface seen along the axis they stand on, as lines from end to end; it knows no arcs."""

import math
from collections import defaultdict
from collections.abc import Iterable

import numpy as np

from planbook.drawing.rounded import AXES
from planbook.drawing.surfaces import Floats
from planbook.solids.plane import Point2

Profile = tuple[list[Point2], list[tuple[Point2, Point2]], bool]


def profiles(normals: Floats, corners: Floats, axis: int) -> list[Profile]:
    """A surface seen along an axis it stands on: lines of its facets, with outward directions, and whether closed."""
    across = [a for a in AXES if a != axis]
    sides: dict[tuple[float, ...], list[Floats]] = defaultdict(list)
    flat, ways = corners[:, :, across], normals[:, across]
    offsets = np.einsum("ij,ij->i", ways, flat.mean(axis=1))
    for way, offset, triangle in zip(ways, offsets, flat, strict=True):
        sides[(*np.round(way, 4).tolist(), round(float(offset), 2))].append(triangle)
    segments, outward = [], []
    for (a, b, _), triangles in sides.items():
        run = np.concatenate(triangles)
        order = np.argsort(run @ (-b, a))
        start, end = run[order[0]], run[order[-1]]
        segments.append((_point(start), _point(end)))
        outward.append((_point((start + end) / 2), (float(a), float(b))))
    return [(line, outward, closed) for line, closed in _chained(segments)]


def _point(at: Floats) -> Point2:
    return (float(at[0]), float(at[1]))


def _chained(segments: Iterable[tuple[Point2, Point2]]) -> list[tuple[list[Point2], bool]]:
    """Segments, all turned the same way round, as lines from end to end."""
    following: dict[tuple[float, float], tuple[Point2, Point2]] = {}
    for start, end in segments:
        if math.dist(start, end) > 1e-4:
            following[_key(start)] = (start, end)
    ends = {_key(end) for _, end in following.values()}
    found: list[tuple[list[Point2], bool]] = []
    for first in [*(key for key in following if key not in ends), *following]:
        line: list[Point2] = []
        at = first
        while at in following:
            start, end = following.pop(at)
            line = [*line, end] if line else [start, end]
            at = _key(end)
        if line:
            closed = len(line) > 2 and _key(line[0]) == _key(line[-1])
            found.append((line[:-1] if closed else line, closed))
    return found


def _key(point: Point2) -> tuple[float, float]:
    return (round(point[0], 2), round(point[1], 2))
