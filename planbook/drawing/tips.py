"""Where an arrow ends on paper: at what it points at, or beside all that is drawn if that is out of sight."""

import math
from collections.abc import Sequence

import numpy as np

from planbook.drawing.look import Look, flat
from planbook.drawing.marks import Point
from planbook.drawing.paper import Paper
from planbook.drawing.sight import in_sight
from planbook.drawing.wedge import ARROW, ahead, unit
from planbook.solids import Vec3
from planbook.solids.hatch import inside
from planbook.workshop.timeline import Shown

STRIDE, ASIDE = 0.5, 0.4
"""A mark is drawn back in such steps to where nothing is drawn, and stands so far beside that, mm on paper."""
FINER = 5
"""The last step back to where nothing is drawn is parted in so many."""


def tip_of(points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper) -> tuple[Point, Point, float]:
    """Where an arrow ends on paper, its direction and its length, mm."""
    tail, tip = (paper.put(flat(look.view, p)) for p in (points[0], points[-1]))
    along, length = unit(tail, tip), max(math.dist(tail, tip), ARROW)
    if not in_sight(points[-1], shown, look.view):
        return _outside(tip, along, look, paper), along, ARROW
    return tip, along, length


def _outside(tip: Point, along: Point, look: Look, paper: Paper) -> Point:
    """The nearest place back along the arrow where nothing is drawn."""
    polygons = paper.polygons(q for face in look.faces for q in face.polygons)
    back = [ahead(tip, along, -STRIDE * k) for k in range(120)]
    hits = inside(polygons, back)
    free = [k for k in range(len(back)) if not hits[k]]
    if not free:
        return tip
    # The last step is too long for a mark that has to stand at the wood.
    finer = [ahead(back[free[0]], along, STRIDE * (1 - k / FINER)) for k in range(1 if free[0] else FINER, FINER + 1)]
    out = int(np.argmin(inside(polygons, finer)))
    return ahead(finer[out], along, -ASIDE)
