"""Lines and curves of a drawing file as plain records in millimetres, y up; they are not made into chords here."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Affine:
    """The map (x, y) to (a x + c y + e, b x + d y + f)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def of(self, point: Point) -> Point:
        """Where a point goes."""
        x, y = self.turned(point)
        return (x + self.e, y + self.f)

    def turned(self, way: Point) -> Point:
        """What becomes of a direction: as a point, but not shifted."""
        return (self.a * way[0] + self.c * way[1], self.b * way[0] + self.d * way[1])

    def after(self, first: "Affine") -> "Affine":
        """This map after another one."""
        a, b = self.turned((first.a, first.b))
        c, d = self.turned((first.c, first.d))
        e, f = self.of((first.e, first.f))
        return Affine(a, b, c, d, e, f)


@dataclass(frozen=True, slots=True)
class LineTo:
    """A straight line to a point."""

    end: Point

    def placed(self, by: Affine) -> "LineTo":
        """The line after an affine map."""
        return LineTo(by.of(self.end))

    def turning(self, start: Point) -> tuple[Point, ...]:
        """Where it turns back in x or y between its ends: nowhere."""
        return ()


@dataclass(frozen=True, slots=True)
class CubicTo:
    """A cubic Bézier curve with two control points."""

    first: Point
    second: Point
    end: Point

    def placed(self, by: Affine) -> "CubicTo":
        """The curve after an affine map."""
        return CubicTo(by.of(self.first), by.of(self.second), by.of(self.end))

    def at(self, start: Point, t: float) -> Point:
        """The point at a share of the way."""
        s = 1 - t
        weights = (s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t)
        points = (start, self.first, self.second, self.end)
        x = sum(w * p[0] for w, p in zip(weights, points, strict=True))
        y = sum(w * p[1] for w, p in zip(weights, points, strict=True))
        return (x, y)

    def turning(self, start: Point) -> tuple[Point, ...]:
        """Where it turns back in x or y between its ends."""
        shares: list[float] = []
        for axis in (0, 1):
            p0, p1, p2, p3 = (p[axis] for p in (start, self.first, self.second, self.end))
            shares += _roots(p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0)
        return tuple(self.at(start, t) for t in shares if 0 < t < 1)


@dataclass(frozen=True, slots=True)
class ArcTo:
    """A part of an ellipse: middle + right cos(a) + up sin(a), a from `begin` on by `sweep` radians."""

    middle: Point
    right: Point
    up: Point
    begin: float
    sweep: float
    end: Point

    def placed(self, by: Affine) -> "ArcTo":
        """The arc after an affine map."""
        middle, right, up = by.of(self.middle), by.turned(self.right), by.turned(self.up)
        return ArcTo(middle, right, up, self.begin, self.sweep, by.of(self.end))

    def at(self, angle: float) -> Point:
        """The point at an angle of its own."""
        c, s = math.cos(angle), math.sin(angle)
        x, y = (m + u * c + v * s for m, u, v in zip(self.middle, self.right, self.up, strict=True))
        return (x, y)

    def turning(self, start: Point) -> tuple[Point, ...]:
        """Where it turns back in x or y between its ends."""
        found = []
        for axis in (0, 1):
            top = math.atan2(self.up[axis], self.right[axis])
            for angle in (top, top + math.pi):
                ahead = (angle - self.begin) % math.tau if self.sweep > 0 else (self.begin - angle) % math.tau
                if 0 < ahead < abs(self.sweep):
                    found.append(self.at(angle))
        return tuple(found)


def _roots(a: float, b: float, c: float) -> list[float]:
    """The real roots of a t² + b t + c."""
    if abs(a) <= 1e-12 * max(abs(b), abs(c), 1e-300):
        return [-c / b] if b else []
    under = b * b - 4 * a * c
    if under < 0:
        return []
    # Adding like signs only, so that a root near zero keeps its digits.
    q = -(b + math.copysign(math.sqrt(under), b)) / 2
    return [q / a, *([c / q] if q else [])]


Segment = LineTo | CubicTo | ArcTo


@dataclass(frozen=True, slots=True)
class Stroke:
    """One line of a drawing from its start through its segments; a closed one ends where it starts."""

    start: Point
    segments: tuple[Segment, ...]
    closed: bool

    @property
    def end(self) -> Point:
        """Where it ends."""
        return self.segments[-1].end if self.segments else self.start

    def placed(self, by: Affine) -> "Stroke":
        """The stroke after an affine map."""
        return Stroke(by.of(self.start), tuple(s.placed(by) for s in self.segments), self.closed)

    def backward(self) -> "Stroke":
        """The same line, run from its end."""
        starts = (self.start, *(s.end for s in self.segments))
        turned = [_backward(s, start) for s, start in zip(self.segments, starts, strict=False)]
        return Stroke(self.end, tuple(reversed(turned)), self.closed)


def _backward(segment: Segment, start: Point) -> Segment:
    match segment:
        case LineTo():
            return LineTo(start)
        case CubicTo(first, second, _):
            return CubicTo(second, first, start)
        case ArcTo(middle, right, up, begin, sweep, _):
            return ArcTo(middle, right, up, begin + sweep, -sweep, start)


@dataclass(frozen=True, slots=True)
class Drawn:
    """What was taken from a drawing file: closed outlines, or one open line, in true size if `sized`."""

    strokes: tuple[Stroke, ...]
    sized: bool

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """(left, bottom, right, top) of the curves themselves, mm."""
        return bounds_of(self.strokes)

    def placed(self, by: Affine) -> "Drawn":
        """The same after an affine map."""
        return Drawn(tuple(s.placed(by) for s in self.strokes), self.sized)


def bounds_of(strokes: Iterable[Stroke]) -> tuple[float, float, float, float]:
    """(left, bottom, right, top) of strokes, exact but for rounding."""
    points = turns_of(strokes)
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


def turns_of(strokes: Iterable[Stroke]) -> list[Point]:
    """The ends of all segments and the points where they turn back in x or y; the outermost points are among them."""
    points: list[Point] = []
    for stroke in strokes:
        start = stroke.start
        points.append(start)
        for segment in stroke.segments:
            points += (*segment.turning(start), segment.end)
            start = segment.end
    return points
