"""Lines and curves of a drawing as chords within TOLERANCE of them, and the areas they enclose."""

import math
from collections.abc import Sequence

import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon

from planbook.model import ArcTo, CubicTo, LineTo, Segment, Stroke
from planbook.solids.plane import TOLERANCE, Area, Outline, Path, Point2, arc_points, without_repeats

SHARPEST = math.pi / 8
"""Neighbouring chords of one curve turn by no more than this, so that pictures show it smooth."""
MOST_HALVINGS = 12
SHORTEST = 1e-3
"""A chord shorter than this is not divided again, mm."""


class TooFine(Exception):  # noqa: N818 - a fact about a drawing
    """A drawing comes to more corners than `most`."""

    def __init__(self, most: int) -> None:
        super().__init__()
        self.most = most


def stroke_points(stroke: Stroke) -> list[Point2]:
    """The corners of a stroke's chords, which lie on its curves, both ends included; mm."""
    points = [stroke.start]
    for segment in stroke.segments:
        points += _chords(points[-1], segment)
    return points


def outline(strokes: Sequence[Stroke], most: int) -> Outline:
    """The open line, or the area of closed outlines: one that lies within another is a hole in it.

    Raises TooFine.
    """
    runs: list[list[Point2]] = []
    for stroke in strokes:
        runs.append(stroke_points(stroke))
        if sum(map(len, runs)) > most:
            raise TooFine(most)
    if not strokes[0].closed:
        return Path(tuple(_apart(runs[0])))
    rings = [ring for ring in map(without_repeats, runs) if len(ring) > 2]
    return _area(rings)


def _apart(points: Sequence[Point2]) -> list[Point2]:
    return [p for at, p in enumerate(points) if at == 0 or math.dist(p, points[at - 1]) > 1e-9]


def _area(rings: Sequence[Sequence[Point2]]) -> Area:
    parts = [Polygon(ring) for ring in rings]
    if len(parts) < 2:
        return Area(parts[0] if parts else Polygon())
    lines = [LineString([*ring, ring[0]]) for ring in rings]
    tree = shapely.STRtree(lines)
    one, two = tree.query(lines, predicate="intersects")
    if any(i != j for i, j in zip(one, two, strict=True)) or not all(part.is_valid for part in parts):
        # Put side by side they are not valid, and say where.
        return Area(MultiPolygon(parts))
    whole = parts[0]
    for part in parts[1:]:
        whole = whole.symmetric_difference(part)
    return Area(whole)


def _chords(start: Point2, segment: Segment) -> list[Point2]:
    """Corners after `start`, the end included."""
    match segment:
        case LineTo(end):
            return [end]
        case CubicTo(first, second, end):
            return _cubic((start, first, second, end), MOST_HALVINGS)
        case ArcTo():
            return _arc(segment)


def _cubic(points: tuple[Point2, Point2, Point2, Point2], halvings: int) -> list[Point2]:
    a, b, c, d = points
    if halvings == 0 or math.dist(a, d) < SHORTEST > max(math.dist(a, b), math.dist(a, c)) or _straight(points):
        return [d]
    ab, bc, cd = _middle(a, b), _middle(b, c), _middle(c, d)
    abc, bcd = _middle(ab, bc), _middle(bc, cd)
    top = _middle(abc, bcd)
    return _cubic((a, ab, abc, top), halvings - 1) + _cubic((top, bcd, cd, d), halvings - 1)


def _straight(points: tuple[Point2, Point2, Point2, Point2]) -> bool:
    """True if the chord will do: a cubic strays from it by 3/4 of its control points' distance at the most."""
    a, b, c, d = points
    if 0.75 * max(_from_chord(b, a, d), _from_chord(c, a, d)) > TOLERANCE:
        return False
    back = _way((d, c, b, a))
    return _bends_little(_way((a, b, c, d)), (-back[0], -back[1]))


def _way(points: tuple[Point2, ...]) -> Point2:
    """The direction from the first point to the next one that lies apart."""
    start = points[0]
    apart = next((p for p in points[1:] if math.dist(p, start) > 1e-9), start)
    return (apart[0] - start[0], apart[1] - start[1])


def _from_chord(point: Point2, start: Point2, end: Point2) -> float:
    """The distance from the chord itself, not from the line beyond it."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    square = dx * dx + dy * dy
    share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / square if square else 0.0
    share = min(1.0, max(0.0, share))
    return math.dist(point, (start[0] + share * dx, start[1] + share * dy))


def _middle(a: Point2, b: Point2) -> Point2:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _arc(arc: ArcTo) -> list[Point2]:
    (ux, uy), (vx, vy) = arc.right, arc.up
    radius = math.hypot(ux, uy)
    if abs(radius - math.hypot(vx, vy)) < 1e-9 * radius and abs(ux * vx + uy * vy) < 1e-9 * radius * radius:
        begin = math.atan2(uy, ux)
        way = 1.0 if ux * vy - uy * vx > 0 else -1.0
        first = begin + way * arc.begin
        return [*arc_points(arc.middle, radius, first, first + way * arc.sweep)[1:-1], arc.end]
    quarters = max(1, math.ceil(abs(arc.sweep) / (math.pi / 4)))
    step = arc.sweep / quarters
    found = [p for i in range(quarters) for p in _elliptic(arc, arc.begin + i * step, step, MOST_HALVINGS)]
    return [*found[:-1], arc.end]


def _elliptic(arc: ArcTo, begin: float, sweep: float, halvings: int) -> list[Point2]:
    start, top, end = (arc.at(begin + sweep * share) for share in (0.0, 0.5, 1.0))
    # The farthest point of an elliptic arc from its chord is the one halfway, as in the circle it comes from.
    ways = _tangent(arc, begin), _tangent(arc, begin + sweep)
    flat = _from_chord(top, start, end) <= TOLERANCE and _bends_little(*ways)
    if halvings == 0 or math.dist(start, end) < SHORTEST or flat:
        return [end]
    return _elliptic(arc, begin, sweep / 2, halvings - 1) + _elliptic(arc, begin + sweep / 2, sweep / 2, halvings - 1)


def _tangent(arc: ArcTo, angle: float) -> Point2:
    c, s = math.cos(angle), math.sin(angle)
    return (arc.up[0] * c - arc.right[0] * s, arc.up[1] * c - arc.right[1] * s)


def _bends_little(first: Point2, second: Point2) -> bool:
    """True if the way turns by SHARPEST at the most from one direction to the other."""
    cross, along = first[0] * second[1] - first[1] * second[0], first[0] * second[0] + first[1] * second[1]
    return abs(math.atan2(cross, along)) <= SHARPEST
