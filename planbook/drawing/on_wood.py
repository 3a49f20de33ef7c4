"""Where the distance of a hole may stand on the wood beside it, if there is no room outside; draws nothing."""

import math

from planbook.drawing.cues import world_points
from planbook.drawing.dimension import Line
from planbook.drawing.look import flat
from planbook.drawing.marks import Point, Ring
from planbook.drawing.mouths import mouth_of
from planbook.drawing.paper import Paper
from planbook.drawing.stage import Fence, Stage
from planbook.drawing.wedge import ahead
from planbook.solids import AXES, Vec3
from planbook.solids.frames import dot, plus, times
from planbook.solids.hatch import inside
from planbook.solids.visible import Polygon2

ASIDE = (3.5, 5.0, 6.5, 8.0, 10.0)
"""So far from the middle of the hole stands the dimension line, mm on paper."""
END = 1.0
"""The line may end so near to the edge of what is seen of its piece, mm on paper."""
SKEW = 0.05
LEAST = 2.0
"""A shorter line is not told on wood, mm on paper."""


def on_wood(fence: Fence, stage: Stage, paper: Paper, half: float) -> list[Line]:
    """The dimension lines of a hole that lie wholly on what is seen of its piece, to both sides of it.

    The number, `half` of it so wide, lies there or on what only stands by: not over an outline of the drawing.
    """
    if fence.hole is None or fence.centred:
        return []
    mouth, out = fence.hole

    def put(point: Vec3) -> Point:
        return paper.put(flat(stage.look.view, point))

    across = [axis for axis in AXES.values() if abs(dot(axis, out)) < SKEW and abs(dot(axis, fence.way)) < SKEW]
    if not across:
        return []
    middle, to_side, down = put(mouth), across[0], times(fence.way, fence.far)
    step, long = math.dist(middle, put(plus(mouth, to_side))), math.dist(middle, put(plus(mouth, down)))
    if step < 1e-6 or long < LEAST:
        return []
    seen = paper.polygons(q for face in stage.look.of(fence.piece) for q in face.polygons)
    calm = [n for n, shown in enumerate(stage.pieces) if shown.role == "context"]
    under = [*seen, *paper.polygons(q for n in calm for face in stage.look.of(n) for q in face.polygons)]
    found: list[Line] = []
    for far in ASIDE:
        for sign in (1.0, -1.0):
            start = plus(mouth, times(to_side, sign * far / step))
            one, two = put(plus(start, down)), put(start)
            away = ((two[0] - middle[0]) / far, (two[1] - middle[1]) / far)
            along = ((two[0] - one[0]) / long, (two[1] - one[1]) / long)
            turn = 1.0 if along[0] * away[1] - along[1] * away[0] > 0 else -1.0
            line = Line((one, two), along, (-turn * along[1], turn * along[0]), 0.0, (middle, two))
            words = [ahead(line.text, along, share * half) for share in (-1.0, 0.0, 1.0)]
            drawn = [p for p in line.stretch if math.dist(p, one) > END]
            if all(inside(seen, drawn)) and all(inside(under, words)):
                found.append(line)
    return found


def in_the_way(fence: Fence, stage: Stage, paper: Paper) -> tuple[list[Polygon2], list[Ring], list[Ring]]:
    """What such a line keeps clear of: other pieces that matter, and the lines of signs; last the axis of its own hole,
    which may cross it."""
    pieces = [n for n, shown in enumerate(stage.pieces) if n != fence.piece and shown.role != "context"]
    shapes = [q for n in pieces for face in stage.look.of(n) for q in face.polygons]
    mouth = fence.hole[0] if fence.hole is not None else (0.0, 0.0, 0.0)
    own, others = list[Ring](), list[Ring]()
    for cue in stage.show.cues:
        if cue.points and cue.kind != "note":
            points = world_points(cue, stage.pieces)
            mine = cue.kind == "drill axis" and math.dist(mouth_of(points)[0], mouth) < END
            (own if mine else others).append(tuple(paper.put(flat(stage.look.view, p)) for p in points))
    return [*paper.polygons(shapes)], others, own
