"""Places along the middle of narrow areas on paper, where no pattern finds room; draws nothing."""

import math
from collections.abc import Sequence

import numpy as np

from planbook.drawing.marks import Point
from planbook.solids.hatch import clip_lines
from planbook.solids.visible import Polygon2

NARROW, SHORT = 0.3, 0.8
"""What of an area is narrower than this, or is shorter as a whole, mm on paper, is a line to a reader."""
EDGE = 0.6
"""An area with an edge that has this share of its length lies along it."""
ALIKE = 1e-9
"""Lengths that differ by a smaller share are looked at closely."""


def middles(polygons: Sequence[Polygon2], pitch: float) -> list[Point]:
    """The middles of each polygon across its length, about `pitch` mm apart, those half way along first."""
    return [spot for polygon in polygons if len(polygon[0]) > 2 for spot in _middles(polygon, pitch)]


def _middles(polygon: Polygon2, pitch: float) -> list[Point]:
    along = longest(polygon[0])
    across = (-along[1], along[0])
    ts, ns = ([p[0] * way[0] + p[1] * way[1] for p in polygon[0]] for way in (along, across))
    low, high = min(ts), max(ts)
    if high - low < SHORT:
        return []
    count = max(1, math.floor((high - low) / pitch))
    step = (high - low) / count
    stations = sorted((low + (k + 0.5) * step for k in range(count)), key=lambda t: abs(t - (low + high) / 2))
    lines = [
        tuple((along[0] * t + across[0] * n, along[1] * t + across[1] * n) for n in (min(ns) - 1, max(ns) + 1))
        for t in stations
    ]
    found = []
    for run in clip_lines([polygon], lines):
        (a, b), (c, d) = run[0], run[-1]
        if math.dist((a, b), (c, d)) >= NARROW:
            found.append(((a + c) / 2, (b + d) / 2))
    return found


def longest(ring: Sequence[Point]) -> Point:
    """The direction in which a ring is longest: of its longest edge, or of its farthest corners if all are short."""
    points = np.asarray(ring)
    long = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    few = np.flatnonzero(long >= long.max() * (1 - ALIKE)).tolist()
    edge = max(((ring[k], ring[(k + 1) % len(ring)]) for k in few), key=lambda pair: math.dist(*pair))
    # Corners that lie so far amid the ring that others are farther from all of them cannot be the farthest two.
    out = np.hypot(*(points - points.mean(axis=0)).T)
    least = float(np.hypot(*(points - points[out.argmax()]).T).max())
    corners = np.flatnonzero(out + out.max() >= least * (1 - ALIKE))
    squares = np.tril(((points[corners, None] - points[corners]) ** 2).sum(axis=2))
    far = tuple(ring[corners[k]] for k in divmod(int(squares.argmax()), len(corners)))
    one, two = edge if math.dist(*edge) > EDGE * math.dist(*far) else far
    size = math.dist(one, two) or 1.0
    return ((two[0] - one[0]) / size, (two[1] - one[1]) / size)
