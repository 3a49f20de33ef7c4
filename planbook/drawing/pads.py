"""Marks of clamps that press the wood beside them: as long as the face is wide, both ends of one or none of them."""

import math
from collections.abc import Sequence

from planbook.drawing.look import NEAR, Look
from planbook.drawing.marks import Mark, Point
from planbook.drawing.paper import Paper
from planbook.solids import Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.hatch import inside
from planbook.workshop.timeline import Cue

LEAST = 1.0
"""Half of a block is no shorter, mm on paper: one on the edge of a thin board stands over it, as the pad does."""
LOOKS = 20
"""At so many places between its middle and its end a block is looked at."""
OPPOSITE = -0.99
"""Cosine between the ways of the two ends of a clamp."""
IN_LINE = 1.0
"""They press in one line that is no wider than this, mm."""


def half(spot: Vec3, tip: Point, side: Point, most: float, look: Look, paper: Paper) -> float:
    """How far a block on a place of the world reaches each way on paper, mm, so that it stands wholly on its face."""
    flat = (f for f in look.faces if not f.curved and abs(dot(f.normal, spot) - f.offset) < NEAR)
    for polygons in (paper.polygons(face.polygons) for face in flat):
        ends = [most * k / LOOKS for k in range(LOOKS + 1)]
        here = inside(
            polygons, [(tip[0] + k * far * side[0], tip[1] + k * far * side[1]) for far in ends for k in (1, -1)]
        )
        if here[0]:
            on = (k for k in range(len(ends)) if not (here[2 * k] and here[2 * k + 1]))
            return max(LEAST, ends[max(0, next(on, len(ends)) - 1)])
    return most


def both_or_none(signs: Sequence[tuple[Mark, ...]], cues: Sequence[Cue]) -> list[tuple[Mark, ...]]:
    """The marks of each cue, without clamps of which the other end has no mark: one end alone only pushes."""
    clamps = [n for n, cue in enumerate(cues) if cue.kind == "clamp" and cue.points]
    lost = {n for n in clamps for k in clamps if not signs[k] and _one_clamp(cues[n], cues[k])}
    return [() if n in lost else marks for n, marks in enumerate(signs)]


def _one_clamp(one: Cue, two: Cue) -> bool:
    """Whether two marks press against one another in one line."""
    (a, way), (b, other) = (_pressing(cue) for cue in (one, two))
    if dot(way, other) > OPPOSITE:
        return False
    between = plus(b, negated(a))
    return math.dist(between, times(way, dot(between, way))) < IN_LINE


def _pressing(cue: Cue) -> tuple[Vec3, Vec3]:
    """Where a clamp presses, and which way."""
    tail, tip = cue.points[0], cue.points[-1]
    return tip, times(plus(tip, negated(tail)), 1 / math.dist(tail, tip))
