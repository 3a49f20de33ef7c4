"""Finds the straight lines, arcs and smooth curves again in an outline of chords; writes no file."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from planbook.solids.plane import TOLERANCE, Point2

NEAR = 1e-3
"""A corner this close to a circle lies on it, mm."""
FEWEST = 3
"""Fewest chords that make an arc."""
FEWEST_OF_ARCS = 5
"""A run of arcs has this many chords for each of them; other runs are curves."""
SURE = 8
"""So many chords on one circle are an arc wherever they stand."""
FEWEST_OF_CURVE = 4
SAG = 2.5 * TOLERANCE
"""How far a chord of a curve may stand off the curve, mm; longer ones are straight lines."""
SMOOTH = math.radians(32)
"""Chords of a curve bend less than this from one to the next."""
LARGEST = 1e5
"""Radius (mm) of an arc that is as good as straight."""


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight line."""

    start: Point2
    end: Point2


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle, less than all of it; `turn` is its angle in radians, positive to the left."""

    start: Point2
    end: Point2
    middle: Point2
    turn: float

    @property
    def radius(self) -> float:
        """mm."""
        return math.dist(self.start, self.middle)

    @property
    def halfway(self) -> Point2:
        """The point in the middle of the arc."""
        (cu, cv), (u, v), half = self.middle, self.start, self.turn / 2
        c, s = math.cos(half), math.sin(half)
        return (cu + (u - cu) * c - (v - cv) * s, cv + (u - cu) * s + (v - cv) * c)


@dataclass(frozen=True, slots=True)
class Curve:
    """A smooth curve through points."""

    points: tuple[Point2, ...]

    @property
    def start(self) -> Point2:
        """Its first point."""
        return self.points[0]

    @property
    def end(self) -> Point2:
        """Its last point."""
        return self.points[-1]


Part = Straight | Arc | Curve


def parts_of(points: Sequence[Point2], closed: bool) -> tuple[Part, ...]:
    """An outline as few true parts, in order, each beginning where the last one ends; mm.

    A closed one is given without the repeated first point. The corners of an arc's chords lie on the arc, so that
    arcs come back exactly; curves pass through all their points.
    """
    line = _plain(points, closed)
    if len(line) < 2:
        return ()
    if not closed:
        return tuple(_parts(line))
    circle = _whole_circle(line)
    if circle:
        return circle
    first = _seam(line)
    return tuple(_parts([*line[first:], *line[: first + 1]]))


def _seam(ring: Sequence[Point2]) -> int:
    """Where a ring may begin so that no part is cut in two: where its longest part ends when it begins anywhere."""
    parts = list(_parts([*ring, ring[0]]))
    longest = max(parts[:-1] or parts, key=lambda part: math.dist(part.start, part.end))
    return ring.index(longest.end)


def _whole_circle(ring: Sequence[Point2]) -> tuple[Part, ...]:
    """Two halves if the ring is a circle, or nothing."""
    half = len(ring) // 2
    arcs = [_arc(run) for run in (ring[: half + 1], [*ring[half:], ring[0]]) if len(run) > FEWEST]
    if len(arcs) < 2 or arcs[0] is None or arcs[1] is None or math.dist(arcs[0].middle, arcs[1].middle) > NEAR:
        return ()
    return (arcs[0], arcs[1])


def _plain(points: Sequence[Point2], closed: bool) -> list[Point2]:
    """Without points that repeat the one before."""
    kept: list[Point2] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > 1e-6:
            kept.append(point)
    if closed and len(kept) > 1 and math.dist(kept[0], kept[-1]) <= 1e-6:
        kept.pop()
    return kept


def _bend(a: Point2, b: Point2, c: Point2) -> float:
    """The turn at b, radians, positive to the left."""
    one, two = (b[0] - a[0], b[1] - a[1]), (c[0] - b[0], c[1] - b[1])
    return math.atan2(one[0] * two[1] - one[1] * two[0], one[0] * two[0] + one[1] * two[1])


def _parts(line: Sequence[Point2]) -> Iterator[Part]:
    at = 0
    while at < len(line) - 1:
        end = _smooth_end(line, at)
        if end - at >= FEWEST:
            yield from _smooth(line[at : end + 1])
            at = end
        else:
            yield Straight(line[at], line[at + 1])
            at += 1


def _smooth(run: Sequence[Point2]) -> Iterator[Part]:
    """A smooth run as arcs if a few of them are all of it; else as its long arcs and curves between them."""
    arcs: list[Arc] = []
    at = 0
    while at < len(run) - 1:
        found = _arc_from(run, at)
        if found is None:
            break
        arcs.append(found[0])
        at = found[1]
    if at == len(run) - 1 and len(arcs) <= max(1, at // FEWEST_OF_ARCS):
        yield from arcs
    else:
        yield from _mixed(run)


def _mixed(run: Sequence[Point2]) -> Iterator[Part]:
    at = since = 0
    while at < len(run) - 1:
        found = _arc_from(run, at)
        if found is None or found[1] - at < SURE:
            at += 1
            continue
        yield from _between(run[since : at + 1])
        yield found[0]
        at = since = found[1]
    yield from _between(run[since:])


def _between(run: Sequence[Point2]) -> Iterator[Part]:
    if len(run) > FEWEST_OF_CURVE:
        yield Curve(tuple(run))
    else:
        yield from (Straight(a, b) for a, b in pairwise(run))


def _arc_from(line: Sequence[Point2], at: int) -> tuple[Arc, int] | None:
    """The longest arc that begins here, and where it ends."""
    best: tuple[Arc, int] | None = None
    for end in range(at + FEWEST, len(line)):
        arc = _arc(line[at : end + 1])
        if arc is None:
            break
        best = (arc, end)
    return best


def _arc(points: Sequence[Point2]) -> Arc | None:
    """The arc on which these points lie as the corners of chords, less than a whole circle, or None.

    Its circle is taken from points far apart, so that corners that are a little off do not turn it.
    """
    circle = _circle(points[0], points[len(points) // 2], points[-1])
    if circle is None:
        return None
    middle, radius = circle
    steps = [_turned(middle, a, b) for a, b in pairwise(points)]
    widest = max(map(abs, steps))
    one_way = all(step > 0 for step in steps) or all(step < 0 for step in steps)
    near = all(abs(math.dist(middle, point) - radius) <= NEAR for point in points)
    if not (one_way and near and widest < SMOOTH and radius * (1 - math.cos(widest / 2)) <= SAG):
        return None
    turn = sum(steps)
    return Arc(points[0], points[-1], middle, turn) if abs(turn) < 2 * math.pi - 1e-6 else None


def _circle(a: Point2, b: Point2, c: Point2) -> tuple[Point2, float] | None:
    """Middle and radius of the circle through three points; None where they lie in a line."""
    (ax, ay), (bx, by), (cx, cy) = a, b, c
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    if abs(d) < 1e-12:
        return None
    one, two, three = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    u = (one * (by - cy) + two * (cy - ay) + three * (ay - by)) / d
    v = (one * (cx - bx) + two * (ax - cx) + three * (bx - ax)) / d
    radius = math.dist((u, v), a)
    return ((u, v), radius) if radius < LARGEST else None


def _turned(middle: Point2, a: Point2, b: Point2) -> float:
    one, two = (a[0] - middle[0], a[1] - middle[1]), (b[0] - middle[0], b[1] - middle[1])
    return math.atan2(one[0] * two[1] - one[1] * two[0], one[0] * two[0] + one[1] * two[1])


def _smooth_end(line: Sequence[Point2], at: int) -> int:
    """Where the smooth run that begins here ends: at a corner or at a long chord."""
    end = at
    while end < len(line) - 1 and _short(line, end):
        if end > at and abs(_bend(line[end - 1], line[end], line[end + 1])) > SMOOTH:
            break
        end += 1
    return end


def _short(line: Sequence[Point2], at: int) -> bool:
    """Whether a chord stands off the curve through its neighbours no more than chords of curves do."""
    bends = []
    if at > 0:
        bends.append(abs(_bend(line[at - 1], line[at], line[at + 1])))
    if at + 2 < len(line):
        bends.append(abs(_bend(line[at], line[at + 1], line[at + 2])))
    soft = [bend for bend in bends if bend < SMOOTH]
    return bool(soft) and math.dist(line[at], line[at + 1]) * min(soft) / 8 <= SAG
