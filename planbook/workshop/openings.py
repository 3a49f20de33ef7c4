"""The flat walls of an opening in a piece: where they are, as seen from the side that they face; knows no operation."""

from math import dist

from planbook.solids import FACE_FRAMES, Area, Frame, Solid, Vec3
from planbook.solids.frames import OPPOSITE, plus, times
from planbook.solids.plane import Point2, blank_area
from planbook.workshop.mating import INTO, levels

LEAST = 25.0
"""A smaller wall, mm2, is none."""
UNDER = 0.9
"""Of a wall of an opening this share lies under other wood: what does not is the outside of the piece."""
FREE = 0.5
"""From this share of a wall nothing stands in the way out of the opening."""
OFF, FAR = 0.5, 2.0
"""A look out of an opening starts this far from the wall, mm, and ends so many lengths of the piece away."""
LOOKS = 5
"""At so many places along and across a wall is looked."""
RIM = 0.1
"""Flat strips narrower than twice this, mm, are where a curve begins."""


def wall_of(solid: Solid, wall: str, opening: str) -> tuple[Area, float]:
    """The wall of an opening that lies at the face `wall`, as the opposite face looks at it, and its level, mm.

    The largest flat one, with all others that are level with it; empty if there is none.
    """
    if wall == opening:
        return blank_area(), 0.0
    frame, out = FACE_FRAMES[OPPOSITE[wall]], FACE_FRAMES[opening].n
    found = [(_lying_in(solid, frame, level, out), level) for level in levels(solid, frame, 1.0)]
    return max(found, key=lambda each: each[0].size, default=(blank_area(), 0.0))


def _lying_in(solid: Solid, frame: Frame, level: float, out: Vec3) -> Area:
    """What of a flat level lies under other wood, and has a free way out of the opening.

    The wall across the way out lies under none: it is deeper than what is outermost there.
    """
    bare = solid.section(frame, level - INTO).minus(solid.section(frame, level + INTO))
    parts = bare.offset(-RIM).offset(RIM).parts if bare.size > LEAST else ()
    kept = [part for part in parts if part.size > LEAST]
    if kept and out == frame.n:
        kept = kept if level < solid.reach(out) - INTO else []
    elif kept:
        above = solid.split(frame.n, level + INTO)[0].shadow(frame)
        kept = [part for part in kept if part.meet(above).size > UNDER * part.size]
    return blank_area().plus(*(part for part in kept if _open(solid, part, frame, level, out)))


def _open(solid: Solid, part: Area, frame: Frame, level: float, out: Vec3) -> bool:
    spots = [frame.world(u, v, level + OFF) for u, v in places(part, LOOKS)]
    far = times(out, FAR * max(solid.extent))
    return sum(not solid.hits(spot, plus(spot, far)) for spot in spots) > FREE * len(spots)


def places(area: Area, count: int) -> list[Point2]:
    """The middle of an area, and those of `count` by `count` places about it that lie in it, the nearest first."""
    left, bottom, right, top = area.bounds
    shares = [(i + 0.5) / count for i in range(count)]
    grid = [(left + a * (right - left), bottom + b * (top - bottom)) for a in shares for b in shares]
    inner = [point for point in grid if area.holds(point)]
    return [area.middle, *sorted(inner, key=lambda point: dist(point, area.middle))]
