"""Plane areas and open paths in millimetres; arcs become chords no further than TOLERANCE from the curve."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

Point2 = tuple[float, float]
Ring = tuple[Point2, ...]
TOLERANCE = 0.02
_MITRE = 4.0


def _areal(geometry: BaseGeometry) -> BaseGeometry:
    """Only the areas of a mixed result, in a fixed order."""
    if isinstance(geometry, Polygon | MultiPolygon):
        return geometry
    kept = [g for g in getattr(geometry, "geoms", ()) if isinstance(g, Polygon | MultiPolygon)]
    return unary_union(kept) if kept else Polygon()


@dataclass(frozen=True, eq=False)
class Area:
    """A plane region, possibly with holes or in several parts."""

    shape: BaseGeometry

    @staticmethod
    def of(outer: Iterable[Point2], holes: Iterable[Iterable[Point2]] = ()) -> "Area":
        """The area inside a ring, less its holes."""
        return Area(Polygon(list(outer), [list(h) for h in holes]))

    @property
    def size(self) -> float:
        """Its area in mm2."""
        return float(self.shape.area)

    @property
    def empty(self) -> bool:
        """True where nothing is left."""
        return bool(self.shape.is_empty) or self.size < 1e-9

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """(left, bottom, right, top) in mm."""
        left, bottom, right, top = self.shape.bounds
        return (left, bottom, right, top)

    @property
    def perimeter(self) -> float:
        """The length of all its edges in mm."""
        return float(self.shape.length)

    def same_as(self, other: "Area | Path") -> bool:
        """Whether it has the same rings, corner by corner."""
        return isinstance(other, Area) and bool(self.shape == other.shape)

    def fault(self) -> tuple[str, Point2] | None:
        """What is wrong with it as drawn (it crosses or touches itself) and where, or None."""
        if self.shape.is_valid:
            return None
        reason = shapely.is_valid_reason(self.shape)
        words, _, where = reason.partition("[")
        numbers = where.rstrip("]").split()
        spot = (float(numbers[0]), float(numbers[1])) if len(numbers) >= 2 else (0.0, 0.0)
        return words.strip(), spot

    @cached_property
    def parts(self) -> tuple["Area", ...]:
        """Its connected parts, left to right, then bottom to top."""
        whole = getattr(self.shape, "geoms", [self.shape])
        return tuple(Area(g) for g in sorted(whole, key=lambda g: tuple(round(b, 6) for b in g.bounds)))

    @cached_property
    def rings(self) -> tuple[Ring, ...]:
        """Every ring: outer ones counter-clockwise, holes clockwise, without the repeated end."""
        rings: list[Ring] = []
        for part in getattr(self.shape, "geoms", [self.shape]):
            if part.is_empty:
                continue
            turned = shapely.geometry.polygon.orient(part)
            rings.extend(tuple(map(tuple, r.coords[:-1])) for r in (turned.exterior, *turned.interiors))
        return tuple(rings)

    @property
    def simple_parts(self) -> tuple["Area", ...]:
        """Its parts, those with holes cut through the middle of one, and again until none has any."""
        found: list[Area] = []
        for part in self.parts:
            if len(part.rings) < 2:
                found.append(part)
                continue
            (left, low, right, high), middle = part.bounds, Area.of(part.rings[1]).centroid[0]
            for half in (part.in_box(left, low, middle, high), part.in_box(middle, low, right, high)):
                found += half.simple_parts
        return tuple(found)

    @property
    def outers(self) -> tuple["Area", ...]:
        """Its parts with their holes filled."""
        return tuple(Area(Polygon(part.shape.exterior)) for part in self.parts)

    @property
    def hull(self) -> "Area":
        """The convex area around it."""
        return Area(_areal(self.shape.convex_hull))

    @property
    def middle(self) -> Point2:
        """A point surely inside it."""
        point = self.shape.representative_point()
        return (point.x, point.y)

    @property
    def roomiest(self) -> Point2:
        """The middle of the largest circle in it, to a hundredth of its size."""
        left, bottom, right, top = self.bounds
        circle = shapely.maximum_inscribed_circle(self.shape, tolerance=max(right - left, top - bottom) / 100)
        u, v = shapely.get_coordinates(circle)[0].tolist()
        return (u, v)

    @property
    def centroid(self) -> Point2:
        """Its centre of gravity, which may lie outside."""
        point = self.shape.centroid
        return (point.x, point.y)

    def offset(self, by: float) -> "Area":
        """Grown by `by` mm on every side (shrunk if negative), corners kept sharp."""
        if by == 0:
            return self
        return Area(_areal(self.shape.buffer(by, join_style="mitre", mitre_limit=_MITRE)))

    def coarser(self, by: float) -> "Area":
        """With fewer corners: its edges nowhere farther than `by` mm from where they were."""
        return Area(_areal(self.shape.simplify(by)))

    def rounded(self, radius: float) -> "Area":
        """Every corner, inner and outer, rounded to at least `radius` mm."""
        steps = max(4, math.ceil((math.pi / 2) / step_angle(radius)))
        shrunk = self.shape.buffer(-radius, join_style="mitre", mitre_limit=_MITRE)
        outer = shrunk.buffer(radius, quad_segs=steps)
        grown = outer.buffer(radius, join_style="mitre", mitre_limit=_MITRE)
        return Area(_areal(grown.buffer(-radius, quad_segs=steps)))

    def plus(self, *others: "Area") -> "Area":
        """The union."""
        return Area(_areal(unary_union([self.shape, *(o.shape for o in others)])))

    def minus(self, *others: "Area") -> "Area":
        """What is left when the others are taken away."""
        return Area(_areal(self.shape.difference(unary_union([o.shape for o in others]))))

    def meet(self, other: "Area") -> "Area":
        """The overlap."""
        return Area(_areal(self.shape.intersection(other.shape)))

    def in_box(self, left: float, bottom: float, right: float, top: float) -> "Area":
        """What of it lies in a rectangle; quicker than the overlap with any other area."""
        return Area(_areal(shapely.clip_by_rect(self.shape, left, bottom, right, top)))

    def moved(self, du: float, dv: float) -> "Area":
        """Shifted by (du, dv) mm."""
        return Area(shapely.affinity.translate(self.shape, du, dv))

    def turned(self, degrees: float, about: Point2 = (0.0, 0.0)) -> "Area":
        """Turned counter-clockwise about a point."""
        return Area(shapely.affinity.rotate(self.shape, degrees, origin=about))

    def mirrored(self, across: str, at: float = 0.0) -> "Area":
        """Mirrored in the line u = at (across "u") or v = at (across "v")."""
        factors = (-1.0, 1.0) if across == "u" else (1.0, -1.0)
        origin = (at, 0.0) if across == "u" else (0.0, at)
        return Area(shapely.affinity.scale(self.shape, *factors, origin=origin))

    def holds(self, point: Point2) -> bool:
        """True if the point is inside or on the edge."""
        return bool(self.shape.covers(Point(point)))

    def distance_to_edge(self, point: Point2) -> float:
        """The distance of a point from the nearest edge, mm."""
        return float(self.shape.boundary.distance(Point(point)))

    def nearest(self, point: Point2) -> Point2:
        """The point of it that is nearest to another: that one itself where it lies inside."""
        u, v = shapely.get_coordinates(shapely.shortest_line(self.shape, Point(point)))[0].tolist()
        return (u, v)

    def gap(self, other: "Outline") -> float:
        """The distance between its edge and another line, mm; 0 where they meet."""
        return float(_line(self).distance(_line(other)))

    def within(self, other: "Area", margin: float = 0.0) -> bool:
        """True if it lies in `other` and stays `margin` mm from its edge."""
        shrunk = other.shape.buffer(-margin) if margin else other.shape
        return bool(shrunk.covers(self.shape))

    def takes(self, other: "Area", spots: Sequence[Point2]) -> list[bool]:
        """Whether the other, moved by each of some vectors (mm) whose points lie in this area, lies in it as well."""
        by = np.asarray(spots, dtype=np.float64).reshape(-1, 2)
        shapely.prepare(self.shape)
        found = shapely.intersects_xy(self.shape, by[:, 0], by[:, 1])
        held = np.flatnonzero(found)
        points = shapely.get_coordinates(other.shape)
        moved = (points[None] + by[held][:, None]).reshape(-1, 2)
        shapes = shapely.set_coordinates(np.full(len(held), other.shape, dtype=object), moved)
        found[held] = shapely.covers(self.shape, shapes)
        return [bool(hit) for hit in found]

    def touches(self, other: "Area") -> bool:
        """True if the two have a point in common."""
        return bool(self.shape.intersects(other.shape))


@dataclass(frozen=True, eq=False)
class Path:
    """An open line through at least two points."""

    points: Ring

    def same_as(self, other: "Area | Path") -> bool:
        """Whether it runs through the same points."""
        return isinstance(other, Path) and self.points == other.points

    @property
    def length(self) -> float:
        """Its length in mm."""
        return float(LineString(self.points).length)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """(left, bottom, right, top) in mm."""
        us, vs = [p[0] for p in self.points], [p[1] for p in self.points]
        return (min(us), min(vs), max(us), max(vs))

    def fault(self) -> tuple[str, Point2] | None:
        """What is wrong with it as drawn (it crosses itself), and where, or None."""
        line = LineString(self.points)
        return None if line.is_simple and line.length > 0 else ("Self-intersection", self.points[0])

    @property
    def halfway(self) -> Point2:
        """The point in the middle of its length."""
        point = LineString(self.points).interpolate(0.5, normalized=True)
        return (point.x, point.y)

    def distance_to_edge(self, point: Point2) -> float:
        """The distance of a point from the line, mm."""
        return float(LineString(self.points).distance(Point(point)))

    def band(self, width: float, side: str = "centre", over: tuple[float, float] = (0.0, 0.0)) -> Area:
        """The strip `width` mm wide along it: centred, or on its left or right; `over` mm longer at its two ends."""
        line = LineString(_lengthened(self.points, over))
        if side == "centre":
            return Area(_areal(line.buffer(width / 2, cap_style="flat", join_style="mitre")))
        signed = width if side == "left" else -width
        return Area(_areal(line.buffer(signed, cap_style="flat", join_style="mitre", single_sided=True)))

    def gap(self, other: "Outline") -> float:
        """The distance between it and another line, mm; 0 where they meet."""
        return float(_line(self).distance(_line(other)))

    def moved(self, du: float, dv: float) -> "Path":
        """Shifted by (du, dv) mm."""
        return Path(tuple((u + du, v + dv) for u, v in self.points))

    def mirrored(self, across: str, at: float = 0.0) -> "Path":
        """Mirrored in the line u = at (across "u") or v = at (across "v")."""
        if across == "u":
            return Path(tuple((2 * at - u, v) for u, v in self.points))
        return Path(tuple((u, 2 * at - v) for u, v in self.points))

    def turned(self, degrees: float, about: Point2 = (0.0, 0.0)) -> "Path":
        """Turned counter-clockwise about a point."""
        line = shapely.affinity.rotate(LineString(self.points), degrees, origin=about)
        return Path(tuple(map(tuple, line.coords)))

    def inside(self, area: Area) -> tuple["Path", ...]:
        """The stretches of it that lie in an area."""
        cut = LineString(self.points).intersection(area.shape)
        runs = [g for g in getattr(cut, "geoms", [cut]) if isinstance(g, LineString) and g.length > 1e-9]
        return tuple(Path(tuple(map(tuple, g.coords))) for g in runs)

    def outside(self, area: Area) -> tuple["Path", ...]:
        """The stretches of it that lie in no part of an area; round the end of a closed line they are one."""
        left = LineString(self.points).difference(area.shape)
        joined = left if isinstance(left, LineString) else shapely.line_merge(left)
        runs = [g for g in getattr(joined, "geoms", [joined]) if isinstance(g, LineString) and g.length > 1e-9]
        return tuple(Path(tuple(map(tuple, g.coords))) for g in runs)


Outline = Area | Path


def _line(outline: Outline) -> BaseGeometry:
    """The line itself: the edge of an area, or the path."""
    return outline.shape.boundary if isinstance(outline, Area) else LineString(outline.points)


def _lengthened(points: Ring, over: tuple[float, float]) -> list[Point2]:
    if max(over) <= 0:
        return list(points)
    ends = []
    for end, near, far in ((points[0], points[1], over[0]), (points[-1], points[-2], over[1])):
        reach = math.hypot(end[0] - near[0], end[1] - near[1]) or 1.0
        ends.append((end[0] + (end[0] - near[0]) / reach * far, end[1] + (end[1] - near[1]) / reach * far))
    return [ends[0], *points[1:-1], ends[1]]


def step_angle(radius: float) -> float:
    """The angle in radians between chord ends that keeps the chord within TOLERANCE of the arc."""
    if radius <= TOLERANCE:
        return math.pi / 4
    return min(math.pi / 8, 2 * math.acos(1 - TOLERANCE / radius))


def arc_points(middle: Point2, radius: float, start: float, end: float) -> list[Point2]:
    """Points along an arc, both ends included; angles in radians, turning left if end > start. Units mm."""
    steps = max(1, math.ceil(abs(end - start) / step_angle(radius) - 1e-9))
    angles = [start + (end - start) * i / steps for i in range(steps + 1)]
    return [(middle[0] + radius * math.cos(a), middle[1] + radius * math.sin(a)) for a in angles]


def blank_area() -> Area:
    """The empty area."""
    return Area(Polygon())


def circle(middle: Point2, radius: float) -> Area:
    """A disc."""
    # A multiple of four chords: turned by a quarter or mirrored, a round plug still fills its round hole.
    steps = 4 * math.ceil(math.pi / 2 / step_angle(radius))
    turns = [2 * math.pi * i / steps for i in range(steps)]
    return Area.of((middle[0] + radius * math.cos(a), middle[1] + radius * math.sin(a)) for a in turns)


def ellipse(middle: Point2, width: float, height: float) -> Area:
    """An ellipse with its axes along u and v."""
    steps = math.ceil(2 * math.pi / step_angle(max(width, height) / 2))
    turns = [2 * math.pi * i / steps for i in range(steps)]
    return Area.of((middle[0] + width / 2 * math.cos(a), middle[1] + height / 2 * math.sin(a)) for a in turns)


def box(left: float, bottom: float, width: float, height: float, corner: float = 0.0) -> Area:
    """A rectangle, its corners rounded to `corner` mm."""
    right, top = left + width, bottom + height
    if corner <= 0:
        return Area.of([(left, bottom), (right, bottom), (right, top), (left, top)])
    points: list[Point2] = []
    middles = ((right, top, 0), (left, top, 1), (left, bottom, 2), (right, bottom, 3))
    for u, v, quarter in middles:
        centre = (u + (corner if u == left else -corner), v + (corner if v == bottom else -corner))
        start = quarter * math.pi / 2
        points.extend(arc_points(centre, corner, start, start + math.pi / 2))
    return Area.of(without_repeats(points))


def arc_band(middle: Point2, inner: float, outer: float, start: float, end: float, round_ends: bool = False) -> Area:
    """The strip between two radii from angle `start` to `end` (degrees, turning left); ends square or round."""
    first, last = math.radians(start), math.radians(end)
    points = arc_points(middle, outer, first, last)
    across = (outer - inner) / 2
    for angle, way in ((last, 1), (first, -1)):
        if round_ends:
            tip = (middle[0] + (inner + across) * math.cos(angle), middle[1] + (inner + across) * math.sin(angle))
            turn = angle if way == 1 else angle + math.pi
            points.extend(arc_points(tip, across, turn, turn + math.pi))
        if way == 1:
            points.extend(arc_points(middle, inner, last, first))
    return Area.of(without_repeats(points))


def without_repeats(points: Sequence[Point2]) -> list[Point2]:
    """The points of a ring without neighbours that coincide, first and last included."""
    kept: list[Point2] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > 1e-9:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= 1e-9:
        kept.pop()
    return kept
