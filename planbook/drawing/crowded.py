"""Lines that lie too close together to be told apart in print: drawn fine, or left out."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from planbook.drawing.ink import SERIES
from planbook.drawing.marks import Ring, Stroke
from planbook.solids.alongside import lines_at

CLEAR = 0.12
"""White that must be left between two lines, mm on paper: less fills in on a usual printer."""
CRUMB, TOUCHING = 1.0, 0.1
"""A line shorter than this with no other one so near to its ends, mm on paper, is a crumb."""
TIGHT, BEND = 8.0, 2.2
"""Loops and bends longer than so many widths are not looked at: they leave white inside."""
FINE = SERIES[0]
"""Width of a line that would run into another one, mm."""


def told_apart(strokes: Sequence[Stroke]) -> tuple[Stroke, ...]:
    """The lines, given the least first, without those that print as one with a stronger or longer one beside them.

    One that would do so in its own pen is drawn fine, and left out where that is not enough (ISO 128-2). A short one
    that touches no other is left out too: a remnant of a tangent surface, which reads as dirt.
    """
    if len(strokes) < 2:
        return tuple(strokes)
    lines = lines_at([_whole(stroke) for stroke in strokes])
    crumbs = np.flatnonzero(lines.long < CRUMB)
    loose = {*crumbs[lines.loose(crumbs, TOUCHING)].tolist()} if len(crumbs) else ()
    if loose:
        return told_apart([stroke for k, stroke in enumerate(strokes) if k not in loose])
    long = lines.long.tolist()
    wide = np.array([stroke.pen.width for stroke in strokes])
    order = sorted(range(len(strokes)), key=lambda k: (-wide[k], -round(long[k], 2), -k))
    rank = np.empty(len(strokes), dtype=np.int64)
    rank[order] = np.arange(len(strokes))
    found = lines.beside(float(wide.max()) + CLEAR)
    after = rank[found.other] < rank[found.line]
    blurred = found.along(after & (found.far < (wide[found.line] + wide[found.other]) / 2 + CLEAR), len(strokes), 1)
    blurred |= np.array([_filled(stroke, far) for stroke, far in zip(strokes, long, strict=True)])
    drawn = np.where(blurred, np.minimum(wide, FINE), wide)
    kept = np.ones(len(strokes), dtype=np.bool_)
    close = after & (found.far < (drawn[found.line] + drawn[found.other]) / 2 + CLEAR / 2)
    for k in (k for k in order if blurred[k]):
        mine = close & (found.line == k) & kept[found.other]
        kept[k] = not found.along(mine, len(strokes))[k]
    return tuple(
        replace(stroke, pen=replace(stroke.pen, width=float(drawn[k]))) if blurred[k] else stroke
        for k, stroke in enumerate(strokes)
        if kept[k]
    )


def _filled(stroke: Stroke, long: float) -> bool:
    """Whether a line, `long` mm, turns so tightly that it prints as a spot: a small loop, or the bend of a notch."""
    wide = stroke.pen.width
    if stroke.closed:
        return long < TIGHT * (wide + CLEAR) and 4 * _area(stroke.points) < (wide + CLEAR) * long
    return long < BEND * wide and _turning(stroke.points) > math.pi / 2


def _area(ring: Ring) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*ring, ring[0])))) / 2


def _turning(points: Ring) -> float:
    """By how much a line turns from its first side to its last, the same way or not."""
    ways = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(points)]
    return sum(abs((b - a + math.pi) % math.tau - math.pi) for a, b in pairwise(ways))


def _whole(stroke: Stroke) -> Ring:
    return (*stroke.points, stroke.points[0]) if stroke.closed else stroke.points
