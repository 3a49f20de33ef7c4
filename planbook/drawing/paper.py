"""Where the plane of a view lies on paper: scale and shift, v up to y down; and lines made slim on the way."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planbook.drawing.marks import Point, Ring
from planbook.solids.hatch import thinned
from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2

SLIM = 0.025
"""How far a printed line may lie from the true one, mm; a fifth of the thinnest pen."""
UNDER = 0.05
"""How far the edge of a colour may lie from the true one, mm; the line over it hides that."""


@dataclass(frozen=True, slots=True)
class Paper:
    """`scale` mm of paper for one mm of the object; (`x`, `y`) is where (0, 0) of the view lies."""

    scale: float
    x: float
    y: float

    def put(self, point: Point2) -> Point:
        """A point of the view on paper."""
        return (self.x + self.scale * point[0], self.y - self.scale * point[1])

    def lifted(self, point: Point) -> Point2:
        """A point of the paper back in the view."""
        return ((point[0] - self.x) / self.scale, (self.y - point[1]) / self.scale)

    def line(self, points: Sequence[Point2]) -> Ring:
        """A polyline on paper, without points that make no difference there."""
        return thinned(tuple(self.put(p) for p in points), SLIM)

    def rings(self, polygons: Iterable[Polygon2]) -> tuple[Ring, ...]:
        """Polygons on paper as rings for even-odd filling; those that vanish at this scale are left out."""
        rings = (self._ring(ring) for outer, holes in polygons for ring in (outer, *holes))
        return tuple(ring for ring in rings if len(ring) > 2)

    def polygons(self, polygons: Iterable[Polygon2]) -> tuple[Polygon2, ...]:
        """Polygons on paper, outlines and holes kept together."""
        return tuple(
            (tuple(self.put(p) for p in outer), tuple(tuple(self.put(p) for p in hole) for hole in holes))
            for outer, holes in polygons
        )

    def _ring(self, ring: Sequence[Point2]) -> Ring:
        return thinned(tuple(self.put(p) for p in (*ring, ring[0])), UNDER)[:-1] if ring else ()
