"""How far signs reach beyond the pieces of a picture, on each side of it; draws nothing."""

import math
from collections.abc import Sequence

from planbook.drawing import cues
from planbook.drawing.marks import Point
from planbook.drawing.names import Bounds, Box
from planbook.drawing.sight import in_sight
from planbook.drawing.wedge import ARROW, ahead, unit
from planbook.solids.visible import View
from planbook.workshop.timeline import Cue, Shown

HEAD = 2.4
"""Half the width of the head of an arrow, or of the block of a clamp, with its bed, mm on paper."""
MOVED = 2.0
"""So much farther out the tail of a clamp may lie that is moved, mm on paper."""
TAIL = 0.6
"""The same of the end of an arrow."""


def beyond(signs: Sequence[Cue], shown: Sequence[Shown], view: View, bounds: Bounds, scale: float) -> Box:
    """How far signs reach over the left, upper, right and lower edge of the bounds, mm on paper; 0 where none does.

    `bounds` are mm of the view, `scale` the least that may be used: at a larger one they reach over less.
    """
    left, low, right, high = (scale * edge for edge in bounds)
    points = [p for cue in signs for p in _ends(cue, shown, view, (left, low, right, high), scale)]
    us, vs = [p[0] for p in points], [p[1] for p in points]
    return (
        max(0.0, left - min(us, default=left)),
        max(0.0, max(vs, default=high) - high),
        max(0.0, max(us, default=right) - right),
        max(0.0, low - min(vs, default=low)),
    )


def _ends(cue: Cue, shown: Sequence[Shown], view: View, edge: Bounds, scale: float) -> list[Point]:
    """The outermost points of a sign: mm of paper, v up."""
    if not cue.points or cues.on_face(cue):
        return []
    room, alone = cues.sticks_out(cue), cue.kind in ("push", "clamp", "drill axis")
    found = (cues.points_of if alone else cues.extent_of)(cue, shown, view)
    put = [(scale * u, scale * v) for u, v in found]
    if cue.kind in ("push", "clamp"):
        return _arrow(cue, put, shown, view, edge)
    if cue.kind == "drill axis" and math.dist(put[0], put[-1]) > 1e-6:
        way = unit(put[0], put[-1])
        return [ahead(put[0], way, -room), ahead(put[-1], way, room)]
    return [(u + a, v + b) for u, v in put for a, b in ((-room, -room), (room, room))]


def _arrow(cue: Cue, put: Sequence[Point], shown: Sequence[Shown], view: View, edge: Bounds) -> list[Point]:
    """Its head and its tail; one that points at a hidden face may end anywhere outside the pieces. A clamp lies over
    them, and is moved a little at most.
    """
    tip, way = put[-1], unit(put[0], put[-1]) if math.dist(put[0], put[-1]) > 1e-9 else (0.0, -1.0)
    long = max(math.dist(put[0], tip), ARROW) + 1.0
    if cue.kind == "clamp":
        long = ARROW + MOVED
    elif not in_sight(cues.world_points(cue, shown)[-1], shown, view):
        left, low, right, high = edge
        tip, long = (left if way[0] > 0 else right, low if way[1] > 0 else high), ARROW + 1.5
    side = (-way[1], way[0])
    tail = ahead(tip, way, -long)
    return [ahead(end, side, half) for end, far in ((tip, HEAD), (tail, TAIL)) for half in (-far, far)]
