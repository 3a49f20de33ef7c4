"""Where the plane of a view lies on paper: scale and shift, v up to y down; and lines made slim on the way."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain, islice, pairwise

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.marks import Point, Ring
from planbook.solids.figures import points_of
from planbook.solids.hatch import thinned
from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2, View

SLIM = 0.025
"""How far a printed line may lie from the true one, mm; a fifth of the thinnest pen."""
UNDER = 0.05
"""How far the edge of a colour may lie from the true one, mm; the line over it hides that."""


def seen_from(view: View, points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Points of the world (n,3) in the plane of a view (n,2), mm, to the last digit as each alone comes out."""
    x, y, z = points.T
    return np.stack([a * x + b * y + c * z for a, b, c in (view.right, view.up)], axis=1)


@dataclass(frozen=True, slots=True)
class Paper:
    """`scale` mm of paper for one mm of the object; (`x`, `y`) is where (0, 0) of the view lies."""

    scale: float
    x: float
    y: float

    def put(self, point: Point2) -> Point:
        """A point of the view on paper."""
        return (self.x + self.scale * point[0], self.y - self.scale * point[1])

    def _put(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Many points (n,2) of the view on paper."""
        found: NDArray[np.float64] = np.array([self.x, self.y]) + self.scale * np.array([1.0, -1.0]) * points
        return found

    def lifted(self, point: Point) -> Point2:
        """A point of the paper back in the view."""
        return ((point[0] - self.x) / self.scale, (self.y - point[1]) / self.scale)

    def line(self, points: Ring) -> Ring:
        """A polyline on paper, without points that make no difference there."""
        return self.lines([points])[0]

    def lines(self, lines: Iterable[Ring]) -> list[Ring]:
        """Polylines on paper, the same way."""
        return thinned([*lines], SLIM, self._put)

    def rings(self, polygons: Iterable[Polygon2]) -> tuple[Ring, ...]:
        """Polygons on paper as rings for even-odd filling; those that vanish at this scale are left out."""
        return self.all_rings([polygons])[0]

    def all_rings(self, areas: Iterable[Iterable[Polygon2]]) -> list[tuple[Ring, ...]]:
        """The same for several areas, in one go."""
        lots = [
            [(*ring, ring[0]) for outer, holes in polygons for ring in (outer, *holes) if len(ring) > 2]
            for polygons in areas
        ]
        slim = iter(thinned([*chain.from_iterable(lots)], UNDER, self._put))
        return [tuple(ring[:-1] for ring in islice(slim, len(lot)) if len(ring) > 3) for lot in lots]

    def polygons(self, polygons: Iterable[Polygon2]) -> tuple[Polygon2, ...]:
        """Polygons on paper, outlines and holes kept together."""
        polygons = tuple(polygons)
        put = self._put(points_of([ring for outer, holes in polygons for ring in (outer, *holes)]))
        points = zip(*put.T.tolist(), strict=True)

        def on_paper(ring: Ring) -> Ring:
            return tuple(islice(points, len(ring)))

        return tuple((on_paper(outer), tuple(map(on_paper, holes))) for outer, holes in polygons)


def divided(line: Ring, step: float) -> Ring:
    """A line with points not more than `step` apart, its own among them."""
    found = [line[0]]
    for (x, y), (u, v) in pairwise(line):
        parts = max(1, math.ceil(math.dist((x, y), (u, v)) / step))
        found += [(x + (u - x) * k / parts, y + (v - y) * k / parts) for k in range(1, parts + 1)]
    return tuple(found)
