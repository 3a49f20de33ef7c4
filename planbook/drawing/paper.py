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
        return self.lines([points])[0]

    def lines(self, lines: Iterable[Sequence[Point2]]) -> list[Ring]:
        """Polylines on paper, the same way."""
        return thinned([tuple(self.put(p) for p in points) for points in lines], SLIM)

    def rings(self, polygons: Iterable[Polygon2]) -> tuple[Ring, ...]:
        """Polygons on paper as rings for even-odd filling; those that vanish at this scale are left out."""
        rings = [ring for outer, holes in polygons for ring in (outer, *holes) if len(ring) > 2]
        closed = [tuple(self.put(p) for p in (*ring, ring[0])) for ring in rings]
        return tuple(ring[:-1] for ring in thinned(closed, UNDER) if len(ring) > 3)

    def polygons(self, polygons: Iterable[Polygon2]) -> tuple[Polygon2, ...]:
        """Polygons on paper, outlines and holes kept together."""
        return tuple(
            (tuple(self.put(p) for p in outer), tuple(tuple(self.put(p) for p in hole) for hole in holes))
            for outer, holes in polygons
        )
