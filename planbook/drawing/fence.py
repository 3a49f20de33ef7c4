"""The distance that a fence or a stop is set to, or that a groove lies from an edge, as a dimension on a picture."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.beside_stop import beside_stop, in_its_way
from planbook.drawing.dimension import CROSSED, HALF, HEAD, OFF, SIZE, WIDEST, Line, beside
from planbook.drawing.lettering import width_of
from planbook.drawing.look import flat
from planbook.drawing.marks import Fill, Mark, Point, Ring, Stroke
from planbook.drawing.names import Bounds, Box
from planbook.drawing.on_wood import in_the_way, on_wood
from planbook.drawing.paper import Paper
from planbook.drawing.sight import in_sight
from planbook.drawing.stage import Fence, Stage
from planbook.drawing.wedge import ahead
from planbook.solids import Vec3
from planbook.solids.frames import dot, plus, times
from planbook.solids.hatch import clearances, inside
from planbook.solids.visible import Polygon2, View
from planbook.units import LengthStyle, Quantity, show_fine
from planbook.workshop.timeline import Shown

ROW = 4.2
"""From one dimension line to another that is further out, mm on paper."""
OUT = OFF + 1.5 * SIZE + 0.3
"""How far a dimension reaches out of the piece, mm on paper."""
LEAST = 1.5
"""Where the middle of the number comes nearer than this to anything else, mm, the dimension is left out: the step tells
it too."""
ON = 5.0
"""Corners no further than this behind the face of a hole belong to its edges, mm."""
TURNED = 0.2
"""How much the ways to the outermost places are turned to the eye."""
SAME = 0.05
"""A piece is as thick as the fence says if it is no further off than this, mm."""


def drawn(
    fences: Sequence[Fence],
    stage: Stage,
    paper: Paper,
    style: LengthStyle | None,
    around: Sequence[Polygon2],
    wires: Sequence[Ring],
    told: Sequence[Mark] = (),
    leaders: Sequence[Ring] = (),
    inner: bool = False,
) -> Iterator[tuple[Fence, tuple[Mark, ...]]]:
    """The dimension of one of these, all as long, each way that it can be told: first where none of its lines lies over
    the drawing, beside the edge that leaves it most free of that, of what is `around` it and of `wires` (the edge of
    the paper, and leaders but for those `leaders` that may cross it).

    It may begin or end where a line of what is `told` already does. That of a hole stands where the line from the hole
    is shortest, and `inner` ones on the wood, after all others. Without a style, the number is as wide as one can be.
    """
    text = WIDEST
    if style is not None and fences:
        text = show_fine(Quantity(Fraction(fences[0].far).limit_denominator(100_000), 1), style)
    for fence in (f for f in fences if f.stop):
        stopped = beside_stop(fence, stage, paper, width_of(text, SIZE) / 2)
        shapes, signs = in_its_way(fence, stage, paper) if stopped else ([], [])
        far_off = _clear(stopped, width_of(text, SIZE) / 2, [*shapes, *around], [*wires, *signs], told, leaders)
        met = [*taken(told), *wires, *leaders]
        yield from (
            (fence, line.marks(text))
            for line, far in zip(stopped, far_off, strict=True)
            if far > LEAST and min(clearances((), met, line.tails), default=CROSSED) >= CROSSED
        )
    lines = [(fence, line) for fence in fences if not fence.near for line in _lines(fence, stage, paper)]
    polygons = [*paper.polygons(q for face in stage.look.faces for q in face.polygons), *around]
    room = _clear([line for _, line in lines], width_of(text, SIZE) / 2, polygons, wires, told, leaders)

    def order(k: int) -> tuple[float, ...]:
        fence, line = lines[k]
        if line.lead:
            return (round(line.long, 2), line.off)
        over = any(inside(polygons, [*line.outward, *line.stretch, *line.tails]))
        return (float(over), float(_on_waste(fence, stage)), line.off, -round(min(room[k], 3.0), 2))

    for k in sorted((k for k in range(len(lines)) if room[k] > LEAST), key=order):
        yield lines[k][0], lines[k][1].marks(text)
    half = width_of(text, SIZE) / 2
    for fence in fences if inner else ():
        wooden = on_wood(fence, stage, paper, half)
        shapes, signs, axis = in_the_way(fence, stage, paper) if wooden else ([], [], [])
        clear = _clear(wooden, half, [*shapes, *around], [*wires, *signs], told, [*leaders, *axis])
        yield from ((fence, line.marks(text)) for line, far in zip(wooden, clear, strict=True) if far > LEAST)


@lru_cache(maxsize=256)
def _lines(fence: Fence, stage: Stage, paper: Paper) -> tuple[Line, ...]:
    ends = [ends for ends in _edges(fence, stage.pieces[fence.piece], stage.look.view) if _seen(ends, stage)]
    middle = _middle(stage, fence, paper)

    def put(point: Vec3) -> Point:
        return paper.put(flat(stage.look.view, point))

    flat_ends = [(put(one), put(two)) for one, two in ends]
    lines = [replace(beside(*each, middle), free=fence.cornered) for each in flat_ends]
    if fence.hole is not None:
        mouth = put(fence.hole[0])
        knees = [(put(_knee(two, *fence.hole)), put(two)) for _, two in ends]
        lines = [replace(line, lead=(mouth, *each)) for line, each in zip(lines, knees, strict=True)]
    if fence.hole is not None and fence.centred:
        spine = [_spine(fence, one, stage.pieces[fence.piece], fence.hole) for one, _ in ends]
        lines = [replace(line, spine=(put(low), put(high))) for line, (low, high) in zip(lines, spine, strict=True)]
    return tuple(replace(line, off=off) for off in (OFF, OFF + ROW) for line in lines)


def beyond(fences: Sequence[Fence], stage: Stage, bounds: Bounds, scale: float) -> list[Box]:
    """How far the dimension of one of these reaches over the left, upper, right and lower edge of bounds, mm on paper.

    There is one for each place that is clear of the pieces, and is not like another, that which takes least first, and
    those on waste last; `bounds` are mm of the view, `scale` is the least that may be used.
    """
    left, low, right, high = (scale * edge for edge in bounds)
    paper = Paper(scale, 0.0, 0.0)
    lines = [
        (line, _on_waste(fence, stage)) for fence in fences if not fence.near for line in _lines(fence, stage, paper)
    ]
    polygons = paper.polygons(q for face in stage.look.faces for q in face.polygons)
    rooms: dict[Box, bool] = {}
    for (line, waste), clear in zip(lines, _clear([line for line, _ in lines], HALF, polygons, ()), strict=True):
        if clear > LEAST:
            xs, ys = zip(*line.corners, strict=True)
            out = (left - min(xs), -high - min(ys), max(xs) - right, max(ys) + low)
            left_over, above, right_over, below = (round(max(0.0, each), 1) for each in out)
            place = (left_over, above, right_over, below)
            rooms[place] = waste and rooms.get(place, True)
    return sorted(rooms, key=lambda room: (rooms[room], sum(room), room))


def _on_waste(fence: Fence, stage: Stage) -> bool:
    return stage.pieces[fence.piece].role == "waste"


def _clear(
    lines: Sequence[Line],
    half: float,
    polygons: Sequence[Polygon2],
    wires: Sequence[Ring],
    told: Sequence[Mark] = (),
    leaders: Sequence[Ring] = (),
) -> list[float]:
    """How far the number of each line, `half` of it so wide, keeps from polygons, wires and leaders, mm on paper.

    It is 0 where that is too near, or a wire crosses the dimension line, a leader its arrow heads, or what is told
    already crosses it between its ends.
    """
    others, numbers = taken(told), [(m.rings[0], ()) for m in told if isinstance(m, Fill) and m.layer == "distance bed"]
    spots = [ahead(line.text, line.along, far) for line in lines for far in (-half, 0.0, half)]
    within = inside(polygons, spots)
    clear = clearances([*polygons, *numbers], [*wires, *leaders, *others], spots)
    far_off = [0.0 if hit else far for hit, far in zip(within, clear, strict=True)]
    room = [min(far_off[3 * k : 3 * k + 3]) for k in range(len(lines))]
    roomy = [k for k, far in enumerate(room) if far > LEAST]
    free = dict(zip(roomy, _free([lines[k] for k in roomy], polygons, wires, others, numbers, leaders), strict=True))
    return [far if free.get(k) else 0.0 for k, far in enumerate(room)]


def _free(
    lines: Sequence[Line],
    polygons: Sequence[Polygon2],
    wires: Sequence[Ring],
    others: Sequence[Ring],
    numbers: Sequence[Polygon2],
    leaders: Sequence[Ring],
) -> list[bool]:
    """Whether nothing crosses each line, as `_clear` says."""
    if not lines:
        return []
    along = iter(clearances((), wires, [point for line in lines for point in line.stretch]))
    free = [min(next(along) for _ in line.stretch) >= CROSSED for line in lines]
    if leaders:
        heads = clearances((), leaders, [tip for line in lines for tip in line.tips])
        free = [good and min(heads[2 * k : 2 * k + 2]) >= HEAD[0] + CROSSED for k, good in enumerate(free)]
    if others:
        between = [line.between for line in lines]
        apart = iter(clearances((), others, [point for points in between for point in points]))
        nearest = [min(next(apart) for _ in points) for points in between]
        free = [good and far >= CROSSED for good, far in zip(free, nearest, strict=True)]
    shapes = [*polygons, *numbers]
    return [
        good and not (numbers and any(inside(numbers, [*line.outward, *line.tails]))) and not line.astray(shapes)
        for good, line in zip(free, lines, strict=True)
    ]


def _edges(fence: Fence, shown: Shown, view: View) -> list[tuple[Vec3, Vec3]]:
    """Places on the piece where the distance may be told: from corners at its beginning, the outermost ones.

    Where the piece ends there, or the fence is cornered, it must have a corner at the end too.
    """
    points = shown.piece.solid.mesh[0] + np.asarray(shown.apart)
    way, level = np.asarray(fence.way), points @ np.asarray(fence.way)
    if fence.centred:
        points = _through_middle(points, way)
        level = points @ way
    starts = points[np.abs(level - fence.level) < SAME]
    if fence.hole is not None:
        starts = _on_face(starts, *fence.hole)
    ends = starts - fence.far * way
    if fence.cornered or abs(level.min() - (fence.level - fence.far)) < SAME:
        last = {tuple(row) for row in np.round(points[np.abs(level - fence.level + fence.far) < SAME], 1).tolist()}
        kept = np.array([tuple(row) in last for row in np.round(ends, 1).tolist()], dtype=np.bool_)
        starts, ends = starts[kept], ends[kept]
    if not len(starts):
        return []
    outer = sorted({int(np.argmax(starts @ side)) for side in _sides(view)})
    return [(_vec(starts[k]), _vec(ends[k])) for k in outer]


def _on_face(corners: NDArray[np.float64], mouth: Vec3, out: Vec3) -> NDArray[np.float64]:
    """The corners of the edges of a hole's face laid into its plane, for they may be rounded; and those behind it."""
    behind = np.dot(mouth, out) - corners @ np.asarray(out)
    near = np.abs(behind) < ON
    laid: NDArray[np.float64] = corners[near] + behind[near, None] * np.asarray(out)
    return np.concatenate([laid, corners[behind >= ON]]) if near.any() else laid


def _knee(end: Vec3, mouth: Vec3, out: Vec3) -> Vec3:
    """Where the line from a hole to the end of its dimension leaves the face of the hole."""
    return plus(end, times(out, dot(mouth, out) - dot(end, out)))


def _through_middle(points: NDArray[np.float64], way: NDArray[np.float64]) -> NDArray[np.float64]:
    """Where the middle between two ends that are alike meets the edges from one to the other."""
    level = points @ way
    ends = [points[np.abs(level - far) < SAME] for far in (level.max(), level.min())]
    one, other = (end - np.outer(end @ way, way) for end in ends)
    alike = {tuple(row) for row in np.round(other, 1).tolist()}
    kept = np.array([tuple(row) in alike for row in np.round(one, 1).tolist()], dtype=np.bool_)
    middle: NDArray[np.float64] = one[kept] + (level.max() + level.min()) / 2 * way
    return middle


def _spine(fence: Fence, start: Vec3, shown: Shown, hole: tuple[Vec3, Vec3]) -> tuple[Vec3, Vec3]:
    """The ends of the line in the middle of the face of a hole, from its edge at `start` on."""
    one = _knee(start, *hole)
    way, out = np.asarray(fence.way), np.asarray(hole[1])
    over = np.asarray(plus(shown.piece.solid.middle, shown.apart)) - np.asarray(one)
    over = 2 * (over - (over @ way) * way - (over @ out) * out)
    return one, _vec(np.asarray(one) + over)


def _sides(view: View) -> list[NDArray[np.float64]]:
    """Eight ways across the picture, turned a little to the eye, so that what is outermost there is seen."""
    right, up, toward = (np.asarray(axis) for axis in (view.right, view.up, view.toward))
    turns = [k * math.pi / 4 for k in range(8)]
    return [math.cos(t) * right + math.sin(t) * up + TURNED * toward for t in turns]


def _vec(point: NDArray[np.float64]) -> Vec3:
    x, y, z = point.tolist()
    return (x, y, z)


def _seen(ends: tuple[Vec3, Vec3], stage: Stage) -> bool:
    """Whether the middle of an edge is before everything, a hair outside the piece it belongs to."""
    middle = times(plus(*ends), 0.5)
    return in_sight(plus(middle, times(stage.look.view.toward, 0.05)), stage.pieces, stage.look.view)


def _middle(stage: Stage, fence: Fence, paper: Paper) -> Point:
    shown = stage.pieces[fence.piece]
    return paper.put(flat(stage.look.view, plus(shown.piece.solid.middle, shown.apart)))


def taken(marks: Sequence[Mark]) -> list[tuple[Point, ...]]:
    """The lines that something else must keep clear of."""
    return [mark.points for mark in marks if isinstance(mark, Stroke)] + [
        mark.rings[0] for mark in marks if isinstance(mark, Fill)
    ]
