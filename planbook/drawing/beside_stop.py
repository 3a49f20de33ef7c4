"""Where the distance before which a cut stops stands on the wood beside its end; draws nothing."""

import math
from collections.abc import Sequence
from dataclasses import replace

from planbook.drawing.cues import world_points
from planbook.drawing.dimension import SIZE, Line
from planbook.drawing.look import flat
from planbook.drawing.marks import Point, Ring
from planbook.drawing.paper import Paper
from planbook.drawing.stage import Fence, Stage
from planbook.drawing.wedge import ahead
from planbook.solids import AXES, Vec3
from planbook.solids.frames import dot, plus, times
from planbook.solids.hatch import inside
from planbook.solids.visible import Polygon2
from planbook.workshop.timeline import Cue

SAME = 0.05
"""A cut ends at a distance if it does no further off than this, mm."""
ASIDE = (1.6, 2.4, 3.6, 5.0)
"""So far from the side of the cut stands the dimension line, mm on paper."""
FURTHER = (0.0, 1.0, 2.0)
"""So much further into the wood the number is moved where the edge runs askew to it, mm on paper."""
AIR = 0.7
"""Between the number and the edge of its face, mm on paper."""
LEAST = 2.0
"""A shorter line is not told there, mm on paper."""
SKEW = 0.05


def stops_of(stage: Stage, piece: int, way: Vec3, far: float) -> list[Fence]:
    """The cuts of a piece that end so far before the edge which lies in a direction, each with its end."""
    shown = stage.pieces[piece]
    level = shown.piece.solid.reach(way) + dot(shown.apart, way)
    cuts = [c for c in stage.show.cues if c.kind == "cut line" and c.piece == shown.piece.name and len(c.points) > 2]
    ends = [_end(cut, stage, way) for cut in cuts]
    return [Fence(piece, way, level, far, stop=end) for end in ends if abs(level - dot(end[0], way) - far) < SAME]


def _end(cut: Cue, stage: Stage, way: Vec3) -> tuple[Vec3, Vec3]:
    """The two corners of a cut at its end, or what would be its corners if it were not round."""
    points = world_points(cut, stage.pieces)
    level = max(dot(p, way) for p in points)
    last = [p for p in points if level - dot(p, way) < SAME]
    across = _across(points, way)
    middle = last[0]
    sides = [dot(p, across) for p in points]
    low, high = min(sides) - dot(middle, across), max(sides) - dot(middle, across)
    return plus(middle, times(across, low)), plus(middle, times(across, high))


def _across(points: Sequence[Vec3], way: Vec3) -> Vec3:
    """The axis along which a cut is wide: of those across the way that on which its points lie farthest apart."""
    axes = [axis for axis in AXES.values() if abs(dot(axis, way)) < SKEW]
    return max(axes, key=lambda axis: max(dot(p, axis) for p in points) - min(dot(p, axis) for p in points))


def beside_stop(fence: Fence, stage: Stage, paper: Paper, half: float) -> list[Line]:
    """The dimension lines to the end of a cut that lie wholly on what is seen of its face, on both sides of the cut.

    The number, `half` of it so wide, lies there too; where the line is shorter it goes on over the cut's side.
    """
    if fence.stop is None:
        return []

    def put(point: Vec3) -> Point:
        return paper.put(flat(stage.look.view, point))

    low, high = fence.stop
    found: list[Line] = []
    for corner, other in ((high, low), (low, high)):
        side = times(plus(corner, times(other, -1.0)), 1.0 / max(math.dist(corner, other), 1e-9))
        outs = [a for a in AXES.values() if abs(dot(a, side)) < SKEW and abs(dot(a, fence.way)) < SKEW]
        outs = [times(axis, sign) for axis in outs for sign in (1.0, -1.0)]
        faces = [f for f in stage.look.of(fence.piece) if any(f.lies_on(corner, out) for out in outs)]
        ground = [*paper.polygons(q for face in faces for q in face.polygons)]
        at, edge = put(corner), put(plus(corner, times(fence.way, fence.far)))
        to = put(plus(corner, side))
        step, long = math.dist(at, to), math.dist(at, edge)
        if not ground or step < 1e-6 or long < LEAST:
            continue
        away = ((to[0] - at[0]) / step, (to[1] - at[1]) / step)
        along = ((at[0] - edge[0]) / long, (at[1] - edge[1]) / long)
        turn = 1.0 if along[0] * away[1] - along[1] * away[0] > 0 else -1.0
        for far in ASIDE:
            ends = (ahead(edge, away, far), ahead(at, away, far))
            line = Line(ends, along, (-turn * along[1], turn * along[0]), 0.0, (at, ends[1]))
            slid = [replace(line, slide=max(0.0, half + AIR - long / 2 + more)) for more in FURTHER]
            found += [each for each in slid if all(inside(ground, _taken(each, half)))][:1]
    return found


def _taken(line: Line, half: float) -> list[Point]:
    """Places that a line and its number take, but for its end at the edge."""
    one = line.tips[0]
    words = [ahead(line.text, line.along, share * (half + AIR / 2)) for share in (-1.0, 0.0, 1.0)]
    rows = [ahead(word, line.out, far) for word in words for far in (-SIZE / 2, SIZE / 2)]
    return [*rows, *(p for p in (*line.stretch, *line.tails) if math.dist(p, one) > AIR and _past(p, line))]


def _past(point: Point, line: Line) -> bool:
    """Whether a point lies on the wood's side of the line's end at the edge."""
    one = line.tips[0]
    return (point[0] - one[0]) * line.along[0] + (point[1] - one[1]) * line.along[1] > 0


def in_its_way(fence: Fence, stage: Stage, paper: Paper) -> tuple[list[Polygon2], list[Ring]]:
    """What such a line keeps clear of: the other pieces, and the lines of signs but for the cut that it is about."""
    shapes = [q for n, _ in enumerate(stage.pieces) if n != fence.piece for f in stage.look.of(n) for q in f.polygons]
    own = fence.stop
    others = [
        tuple(paper.put(flat(stage.look.view, p)) for p in world_points(cue, stage.pieces))
        for cue in stage.show.cues
        if cue.points and cue.kind != "note" and not (cue.kind == "cut line" and _end(cue, stage, fence.way) == own)
    ]
    return [*paper.polygons(shapes)], others
