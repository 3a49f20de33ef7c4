"""The views of a measured sheet: how large they are drawn, where they lie on paper, and their edges; no figures."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from planbook.drawing.ink import QUIET
from planbook.drawing.marks import Mark, Pen, Point, Ring, Stroke
from planbook.drawing.measured import Measured
from planbook.drawing.paper import Paper
from planbook.drawing.rounded import AXES, FINE, Rounded
from planbook.drawing.stencil_lines import circle_points
from planbook.drawing.surfaces import CREASE_DEG, groups
from planbook.solids import Solid
from planbook.solids.hatch import clearances
from planbook.solids.visible import orthographic, see

Segment = tuple[Point, Point]
Angle = Literal["first", "third"]
"""How the views are laid out (ISO 5456-2): first angle, as in Europe, or third angle, as in America."""

SCALES = (5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
"""ISO 5455, largest first; nothing is drawn larger than five times its size."""
LEGIBLE = 6.0
"""A piece no thinner than this, mm, is large enough on paper at its true size."""
EDGE = 1.4
"""From the edge of the paper to the views, mm: the figure of a place there stands level with it."""
GAP, WIDER = 5.0, 7.0
"""Least clear space between two views, mm, and what a scale must leave for it."""
BIT = 3.0
"""An edge shorter than this (mm) with a loose end is left out: a remnant of a rounding that reads as dirt."""
TOUCHING = 0.05
"""The end of an edge this near to another one (mm) is not loose."""
BLUR = 0.7
"""An edge that runs nearer to another thick one than this, mm on paper, is drawn fine, and a hidden one half as near to
another hidden one is left out (ISO 128-2: parallel lines closer than this run into one)."""
_THICK, _THIN, _FINE = Pen(0.35), Pen(0.18), Pen(0.13)
_HIDDEN = Pen(0.18, QUIET, (1.6, 0.8))
_CENTRE = Pen(0.13, QUIET, (3.0, 0.6, 0.5, 0.6))
_PENS = ("outline", "crease", "hidden")
OUT, CROSS = 1.5, 2.5
"""A centre line goes so far beyond its hole, and each way from the middle of an arc, mm on paper."""
_ALONG = (0.2, 0.4, 0.6, 0.8)


@dataclass(frozen=True, slots=True)
class View:
    """One view: the face it shows, the axes that run right and up, whether right is turned round, and its paper."""

    face: str
    right: int
    up: int
    turned: bool
    paper: Paper
    low: Point
    high: Point


def scale_for(size: Sequence[float], width: float, height: float, margin: tuple[float, float]) -> float:
    """The largest scale at which the views and their measures have room; `margin` is theirs on the left and below."""
    for scale in (each for each in SCALES if each <= 1 or min(size) < LEGIBLE):
        across = margin[0] + (size[0] + size[1]) * scale + WIDER
        if across <= width and height_of(size, scale, margin) <= height:
            return scale
    return SCALES[-1]


def height_of(size: Sequence[float], scale: float, margin: tuple[float, float]) -> float:
    """How far down views WIDER apart and their measures reach, mm."""
    return EDGE + (size[1] + size[2]) * scale + WIDER + margin[1]


def scale_text(scale: float) -> str:
    """A scale as ISO 5455 writes it: 1:2, 1:1 or 2:1."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"


def laid_out(
    corner: Sequence[float],
    size: Sequence[float],
    scale: float,
    width: float,
    angle: Angle,
    margin: tuple[float, float],
    gap: float,
) -> tuple[tuple[View, ...], float]:
    """Front, top and side view on paper, the first two `gap` mm apart; and how far down they and the measures reach."""
    wide, deep, tall = (side * scale for side in size)
    x = max(margin[0], (width - wide - WIDER - deep + margin[0]) / 2)
    first = angle == "first"
    front_y, top_y = (EDGE, EDGE + tall + gap) if first else (EDGE + deep + gap, EDGE)
    side_x = x + wide + WIDER

    def view(face: str, right: int, up: int, left: float, top: float, turned: bool = False) -> View:
        across, high = size[right] * scale, size[up] * scale
        start = -(corner[right] + size[right]) if turned else corner[right]
        paper = Paper(scale, left - start * scale, top + high + corner[up] * scale)
        return View(face, right, up, turned, paper, (left, top + high), (left + across, top))

    views = (
        view("front", 0, 2, x, front_y),
        view("top", 0, 1, x, top_y),
        view("left", 1, 2, side_x, front_y, turned=True) if first else view("right", 1, 2, side_x, front_y),
    )
    return views, height_of(size, scale, margin) + gap - WIDER


def edges_of(solid: Solid, view: View) -> Iterable[Mark]:
    """The edges seen, thick, or fine where they would run into another one, and those hidden, thin and dashed."""
    seen = see([groups(solid).body], orthographic(view.face), crease_deg=CREASE_DEG, hidden=True)
    drawn = [(view.paper.line(stroke.points), stroke.kind) for stroke in seen.strokes if stroke.kind in _PENS]
    drawn = [(points, kind) for points, kind in drawn if len(points) > 1]
    for points in _told_apart([points for points, kind in drawn if kind == "hidden"], BLUR / 2):
        yield Stroke(points, _HIDDEN, "hidden")
    edges = [points for points, kind in drawn if kind != "hidden"]
    whole = {points for n, points in enumerate(edges) if not is_bit(n, edges)}
    ranked = sorted(drawn, key=lambda each: (not _on_frame(each[0], view), each[1] == "crease", -_length(each[0])))
    thick = set(_told_apart([points for points, _ in ranked if points in whole], BLUR))
    yield from (Stroke(points, _THICK if points in thick else _FINE, "edge") for points in edges if points in whole)


def _told_apart(lines: Iterable[Ring], near: float) -> list[Ring]:
    """Lines without those that run all along an earlier one, nearer than so many mm."""
    kept: list[Ring] = []
    for points in lines:
        if not _beside(points, kept, near):
            kept.append(points)
    return kept


def _on_frame(points: Ring, view: View) -> bool:
    """Whether a line lies on one of the four sides of its view."""
    (left, low), (right, high) = view.low, view.high
    far = [(abs(x - left), abs(x - right), abs(y - low), abs(y - high)) for x, y in points]
    return any(max(side) < TOUCHING for side in zip(*far, strict=True))


def _length(points: Ring) -> float:
    return sum(math.dist(one, two) for one, two in pairwise(points))


def _beside(points: Ring, others: Sequence[Ring], near: float) -> bool:
    """Whether a line runs all along others, nearer than so many mm."""
    sides = pairwise(points)
    spots = [(a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1])) for a, b in sides for k in _ALONG]
    return max(clearances((), others, spots)) < near


def is_bit(number: int, edges: Sequence[Ring]) -> bool:
    """Whether an edge is short and ends in the air."""
    points = edges[number]
    if _length(points) >= BIT:
        return False
    others = [*edges[:number], *edges[number + 1 :]]
    return max(clearances((), others, (points[0], points[-1]))) > TOUCHING


def view_of(found: Rounded, views: Sequence[View]) -> View:
    """The view along the axis of a round surface."""
    return next(view for view in views if found.axis not in (view.right, view.up))


def on_paper(found: Rounded, point: Point, size: Sequence[float], view: View) -> Point:
    """A point in the two axes across a round surface, on the paper of the view along it."""
    axes = [axis for axis in AXES if axis != found.axis]
    place = dict(zip(axes, point, strict=True))
    return _on_view(place[view.right], place[view.up], size, view)


def _on_view(right: float, up: float, size: Sequence[float], view: View) -> Point:
    """A point along the two axes of a view, mm from the piece's lower corner, on its paper."""
    across = size[view.right] - right if view.turned else right
    return (view.low[0] + across * view.paper.scale, view.low[1] - up * view.paper.scale)


def centres(facts: Measured, view: View) -> Iterable[Mark]:
    """Centre lines of holes, pins and arcs whose middle is told (ISO 128-2): crosses, and axes seen from the side.

    So that every figure of a middle points at a line. Lines upon one another are drawn once.
    """
    drawn: set[tuple[float, ...]] = set()
    for found in facts.rounds:
        for line in () if found.corner else _centre_lines(found, facts, view):
            key = tuple(round(value, 1) for point in line for value in point)
            if key not in drawn:
                drawn.add(key)
                yield Stroke(line, _CENTRE, "centre")


def _centre_lines(found: Rounded, facts: Measured, view: View) -> Iterable[Segment]:
    """The centre lines of a round surface in a view; of a middle beside the piece only the one that crosses it."""
    across = [axis for axis in AXES if axis != found.axis]
    middle = dict(zip(across, found.middle, strict=True))
    inside = {axis for axis in across if -FINE < middle[axis] < facts.size[axis] + FINE}
    half = max(found.radius, found.sunk / 2) + OUT / view.paper.scale if found.whole else CROSS / view.paper.scale
    for axis, other in ((view.right, view.up), (view.up, view.right)):
        if axis not in inside:
            continue
        if other == found.axis:
            low, high = found.along[0] - OUT / view.paper.scale, found.along[1] + OUT / view.paper.scale
        elif other in inside:
            low, high = middle[other] - half, middle[other] + half
        else:
            low, high = 0.0, facts.size[other]
        ends = ({axis: middle[axis], other: end} for end in (low, high))
        one, two = (_on_view(end[view.right], end[view.up], facts.size, view) for end in ends)
        yield one, two


def symbol(x: float, y: float, angle: Angle) -> Iterable[Mark]:
    """The symbol of first or third angle: a blunt cone and its end (ISO 5456-2; drawn from memory)."""
    cone_x, end_x = (x, x + 7.0) if angle == "first" else (x + 5.0, x + 1.8)
    mid = y - 0.9
    cone = ((cone_x, mid - 0.8), (cone_x + 3.6, mid - 1.6), (cone_x + 3.6, mid + 1.6), (cone_x, mid + 0.8))
    yield Stroke(cone, _THIN, "symbol", closed=True)
    yield Stroke(circle_points((end_x, mid), 1.6), _THIN, "symbol", closed=True)
    yield Stroke(circle_points((end_x, mid), 0.8), _THIN, "symbol", closed=True)
