"""Round surfaces of a measured piece, and which arcs only go on with another one or round a corner; draws nothing."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planbook.drawing.curves import Arc, Part, Straight
from planbook.solids.plane import Point2

FINE = 0.01
"""Lengths closer than this (mm) are one."""
SHORT = 2.0
"""A slanting side shorter than this (mm) beside an arc is what is left where lines were moved, and has no dimension."""
ROUND = 0.06
"""A side nearer than this (mm) to the circle of an arc is a bit of that arc: a circle is made of chords, and where
it is cut through, too few of them are left to be known for an arc."""
SMOOTH = 0.2
"""Cosine of the angle between a side and the radius of an arc, below which one runs smoothly into the other."""
AXES = (0, 1, 2)


@dataclass(frozen=True, slots=True)
class Rounded:
    """A round surface about an axis (0 x, 1 y, 2 z): middle in the two other axes, in order, and radius, mm.

    `along` is from where to where it goes along its axis, mm, measured as the middle is, from the piece's lower
    corner; `hollow` tells a hole from a pin, `whole` a full circle from an arc, `through` one that goes from one
    side of the piece to the other or is a hole open at both ends, as into a groove, and `corner` an arc that only
    rounds the corner of two straight sides. `mark` is a point of it, given as the middle is. `sunk` is the diameter
    of the countersink of a hole, 0 without one.
    """

    axis: int
    middle: tuple[float, float]
    radius: float
    along: tuple[float, float]
    hollow: bool
    whole: bool
    through: bool
    corner: bool
    mark: tuple[float, float]
    sunk: float = 0.0


def without_leavings(parts: Sequence[Part]) -> list[Part]:
    """Parts of a curved line without the short slants that are left beside its arcs where lines were moved."""
    curved = any(isinstance(part, Arc) for part in parts)
    return [part for part in parts if not (curved and isinstance(part, Straight) and _slants_a_little(part))]


def _slants_a_little(part: Straight) -> bool:
    du, dv = (abs(part.start[i] - part.end[i]) for i in (0, 1))
    return min(du, dv) > 1e-3 and math.hypot(du, dv) < SHORT


def is_chord(part: Straight, arc: Rounded) -> bool:
    """Whether a side lies on the circle of an arc, all along."""
    halfway = ((part.start[0] + part.end[0]) / 2, (part.start[1] + part.end[1]) / 2)
    return all(abs(math.dist(point, arc.middle) - arc.radius) < ROUND for point in (part.start, halfway, part.end))


def each_once(rounds: Sequence[Rounded]) -> list[Rounded]:
    """Rounds without those that only go on with another one: about the same middle, as wide and as deep."""
    kept: list[Rounded] = []
    for each in rounds:
        if not any(_goes_on(each, other) for other in kept):
            kept.append(each)
    return kept


def _goes_on(one: Rounded, other: Rounded) -> bool:
    alike = (one.axis, one.hollow, one.whole) == (other.axis, other.hollow, other.whole)
    near = max(math.dist(one.middle, other.middle), abs(one.radius - other.radius), math.dist(one.along, other.along))
    return alike and near < ROUND


def rounds_a_corner(parts: Sequence[Part], number: int, closed: bool) -> bool:
    """A quarter that straight sides run smoothly into, or one where it ends a surface: its radius tells its place."""
    arc = parts[number]
    assert isinstance(arc, Arc)
    beside = [parts[k % len(parts)] for k in (number - 1, number + 1) if closed or 0 <= k < len(parts)]
    straight = bool(beside) and all(isinstance(part, Straight) and _smooth(part, arc) for part in beside)
    return straight and abs(abs(arc.turn) - math.pi / 2) < 0.35


def _smooth(side: Straight, arc: Arc) -> bool:
    """Whether a side runs into an arc without a corner: the radius there is square to it."""
    at = min((math.dist(end, met), end) for end in (side.start, side.end) for met in (arc.start, arc.end))[1]
    along, out = ((b[0] - a[0], b[1] - a[1]) for a, b in ((side.start, side.end), (arc.middle, at)))
    return abs(along[0] * out[0] + along[1] * out[1]) < SMOOTH * math.hypot(*along) * math.hypot(*out)


def is_hollow(arc: Arc, outward: Sequence[tuple[Point2, Point2]]) -> bool:
    """Whether the wood lies outside an arc, told by the outward direction at the place nearest to its middle."""
    half = arc.halfway
    (u, v), (a, b) = min(outward, key=lambda pair: math.dist(pair[0], half))
    return (u - arc.middle[0]) * a + (v - arc.middle[1]) * b < 0
