"""What lies on either side of a saw cut: which part, and whether it is waste; it judges no cut."""

import math

from planbook.review.bends import Bend, Sawn
from planbook.review.cuts import setting, thrown_away
from planbook.solids import Point2
from planbook.workshop import Event, Piece, Timeline

BESIDE = 0.4
"""How far (mm) beyond the kerf the wood is looked at."""


def waste_at(event: Event, each: Sawn, point: Point2, timeline: Timeline) -> bool:
    """Whether there is no wood at a point of the face after the cut, or wood that does not go into the object."""
    part = part_at(event, each, point)
    fate = timeline.fates.get(part.name) if part else None
    return part is None or thrown_away(part, event, timeline) or (fate is not None and fate.ending == "kept")


def waste_beside(event: Event, each: Sawn, bend: Bend, timeline: Timeline) -> bool:
    """Whether the blade has waste to turn in on one side of a corner."""
    inner = _towards(bend)
    reach = setting(event, "kerf", 0.0) / 2 + BESIDE
    sides = (shifted(bend.at, inner, reach * 2), shifted(bend.at, inner, -reach * 2))
    return any(waste_at(event, each, side, timeline) for side in sides)


def shifted(point: Point2, way: Point2, by: float) -> Point2:
    """A point moved along a unit vector of the face, mm."""
    return (point[0] + way[0] * by, point[1] + way[1] * by)


def unit(start: Point2, end: Point2) -> Point2:
    """The direction from one point to another."""
    long = math.dist(start, end) or 1.0
    return ((end[0] - start[0]) / long, (end[1] - start[1]) / long)


def _towards(bend: Bend) -> Point2:
    """The direction into a corner: half way between its two legs."""
    one, two = unit(bend.at, bend.before), unit(bend.at, bend.after)
    middle = (one[0] + two[0], one[1] + two[1])
    long = math.hypot(*middle)
    return (middle[0] / long, middle[1] / long) if long > 1e-9 else (-one[1], one[0])


def part_at(event: Event, each: Sawn, point: Point2) -> Piece | None:
    """The part that a cut leaves at a point of the face, or None."""
    frame = each.stuck.frame
    top = each.piece.solid.reach(frame.n) - sum(a * b for a, b in zip(frame.origin, frame.n, strict=True))
    start, end = frame.world(*point, top + 1.0), frame.world(*point, top - max(each.piece.solid.extent) * 2)
    mine = [piece for piece in event.made if each.piece.name in piece.sources]
    return next((piece for piece in mine if piece.solid.hits(start, end)), None)
