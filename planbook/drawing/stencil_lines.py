"""The lines of a stencil as marks: edges, cuts and their side, lines to sand to, waste, holes; no words."""

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise

from planbook.drawing.marks import Fill, Mark, Pen, Point, Stroke
from planbook.drawing.stencil_art import ArtHole, ArtLine, Laid, cut_strip, runs_of, saw_line
from planbook.drawing.stencil_pens import CROP, CUT, DUST, EDGE, GUIDE, HATCH, HOLE, SAND, THIN, TICK
from planbook.solids import Area, Outline, Path
from planbook.solids.idle import ON_EDGE, over_wood, worked

RUN_OUT = 3.0
"""How far a line goes on in the air where it leaves the piece, mm: enough to see where to begin."""
TICK_LENGTH = 1.6
_TICK_STEP = 9.0
_PAIR_STEP, _PAIR_GAP = 7.0, 0.9
_BESIDE = {"inside": 1.0, "left": 1.0, "outside": -1.0, "right": -1.0}
"""The sides of a line on which a saw cut may fall, and the way of its ticks; else it lies on the line."""
_BREAK_STEP, _ZIGZAG = 40.0, ((-1.5, 0.0), (-0.75, 1.4), (0.75, -1.4), (1.5, 0.0))
"""How far the zigzags of a break line are apart, and one of them, along and across the line, mm."""
_SAG = 0.004
"""How far the chords of a hole may lie from its circle, mm."""


def line_marks(paper: Laid) -> Iterator[Mark]:
    """Everything that must be exact, and what shows the side of the cut; from back to front."""
    cuts = [line for line in paper.lines if line.use == "cut"]
    for line in cuts:
        if line.kerf > 0:
            yield from fills(
                _in_wood(cut_strip(line, line.kerf), paper), DUST, "kerf side" if line.side in _BESIDE else "kerf"
            )
    yield from (path_stroke(edge, EDGE, "edge") for edge in paper.edges)
    for line in cuts:
        yield from (tick for tick in _ticks(line) if paper.face.empty or paper.face.holds(tick.points[1]))
    for line in paper.lines:
        yield from _line(line, paper)
    for hole in paper.holes:
        yield from _hole(hole)


def _in_wood(area: Area, paper: Laid) -> Area:
    return area if paper.face.empty else area.meet(paper.face)


def _line(line: ArtLine, paper: Laid) -> Iterator[Mark]:
    """One line; where a saw line that keeps off it would run in the air beside the piece, it is left out."""
    if line.use == "guide":
        yield from strokes(line.outline, GUIDE, "guide")
    elif line.use == "entry":
        yield from strokes(line.outline, CUT, "entry")
    elif line.use == "sand to":
        yield from _worked(line.outline, paper, SAND, "sand to")
    elif (at := saw_line(line)) is not line.outline:
        yield from _worked(line.outline, paper, SAND, "sand to")
        yield from _sawn(at, paper)
    else:
        taken = _in_wood(cut_strip(line, line.kerf or ON_EDGE), paper)
        yield from _worked(at, paper, CUT, "cut", taken)


def _worked(outline: Outline, paper: Laid, pen: Pen, layer: str, taken: Area | None = None) -> Iterator[Stroke]:
    runs = over_wood(runs_of(outline), paper.face, RUN_OUT)
    yield from (path_stroke(part, pen, layer) for part in worked(runs, paper.face, taken))


def _sawn(at: Outline, paper: Laid) -> Iterator[Stroke]:
    wood = paper.face.offset(0.02)
    for run in runs_of(at):
        inside = run.inside(wood)
        whole = paper.face.empty or sum(part.length for part in inside) > run.length - 1e-6
        yield from (path_stroke(part, CUT, "cut") for part in ((run,) if whole else inside))


def strokes(outline: Outline, pen: Pen, layer: str) -> Iterator[Stroke]:
    """A closed or open line as strokes."""
    if isinstance(outline, Path):
        yield Stroke(outline.points, pen, layer)
    else:
        yield from (Stroke(ring, pen, layer, closed=True) for ring in outline.rings)


def broken_off(start: Point, end: Point) -> Stroke:
    """The line with zigzags at which a drawing of something larger stops.

    (ISO 128-2, line type 01.1 with zigzags: the limit of a partial view.)
    """
    far = math.dist(start, end)
    u, v = (end[0] - start[0]) / far, (end[1] - start[1]) / far
    count = max(1, round(far / _BREAK_STEP))
    middles = [(k + 0.5) * far / count for k in range(count)]
    steps = [(middle + along, across) for middle in middles for along, across in _ZIGZAG]
    inner = tuple((start[0] + u * t - v * n, start[1] + v * t + u * n) for t, n in steps)
    return Stroke((start, *inner, end), CROP, "crop")


def path_stroke(path: Path, pen: Pen, layer: str) -> Stroke:
    """A path as a stroke, closed if it ends where it starts."""
    closed = len(path.points) > 3 and math.dist(path.points[0], path.points[-1]) < 1e-9
    return Stroke(path.points[:-1] if closed else path.points, pen, layer, closed)


def fills(area: Area, colour: str, layer: str) -> Iterator[Fill]:
    """An area as a tint, if there is any of it."""
    if not area.empty:
        yield Fill(area.rings, colour, layer)


def along(points: Iterable[Point], step: float) -> Iterator[tuple[Point, Point]]:
    """Points every `step` mm along a line, beginning half a step in, each with the unit vector of travel."""
    ahead = step / 2
    every = list(points)
    for (ax, ay), (bx, by) in pairwise(every):
        length = math.hypot(bx - ax, by - ay)
        if length == 0:
            continue
        way = ((bx - ax) / length, (by - ay) / length)
        while ahead <= length:
            yield (ax + way[0] * ahead, ay + way[1] * ahead), way
            ahead += step
        ahead -= length


def _ticks(line: ArtLine) -> Iterator[Stroke]:
    """Short ticks on the side where the wood turns to dust, leaning forward so that they read as a fringe."""
    sign = _BESIDE.get(line.side)
    if sign is None:
        return
    for run in runs_of(saw_line(line)):
        for (x, y), (dx, dy) in along(run.points, _TICK_STEP):
            tip = (
                x + TICK_LENGTH * (-dy * sign * 0.9 + dx * 0.44),
                y + TICK_LENGTH * (dx * sign * 0.9 + dy * 0.44),
            )
            yield Stroke(((x, y), tip), TICK, "kerf side")


def hatch(area: Area) -> Iterator[Stroke]:
    """Waste: pairs of fine lines rising to the right, far apart, so that lines stay easy to read."""
    if area.empty:
        return
    left, top, right, bottom = area.bounds
    first = math.floor((left + top) / _PAIR_STEP) * _PAIR_STEP
    for k in range(math.ceil((right + bottom - first) / _PAIR_STEP) + 1):
        for gap in (0.0, _PAIR_GAP * math.sqrt(2)):
            total = first + k * _PAIR_STEP + gap
            ends = ((left - 1, total - left + 1), (total - top + 1, top - 1))
            if ends[0] != ends[1]:
                yield from (Stroke(run.points, HATCH, "waste") for run in Path(ends).inside(area))


def circle_points(middle: Point, radius: float) -> tuple[Point, ...]:
    """A circle as a closed ring whose chords stay within 0.004 mm of it."""
    sag = min(_SAG, radius / 2)
    steps = max(16, math.ceil(math.pi / math.acos(1 - sag / radius))) if radius > 0 else 3
    turns = (2 * math.pi * i / steps for i in range(steps))
    return tuple((middle[0] + radius * math.cos(a), middle[1] + radius * math.sin(a)) for a in turns)


def _hole(hole: ArtHole) -> Iterator[Stroke]:
    yield Stroke(circle_points(hole.at, hole.diameter / 2), HOLE, "hole", closed=True)
    for way in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)):
        yield from _centre_line(hole.at, way, cross_reach(hole))


def cross_reach(hole: ArtHole) -> float:
    """How far the centre cross of a hole reaches from its middle, mm."""
    return hole.diameter / 2 + 2.0


def _centre_line(at: Point, way: Point, reach: float) -> Iterator[Stroke]:
    """Half of a long-dash-dot line: a long dash across the middle, gap, dot, gap, and so on."""
    long = 4.0 if reach > 8 else max(0.8, reach * 0.45)
    gap, dot = (0.8, 0.4) if reach > 8 else (0.4, 0.25)
    done, drawn = 0.0, [long / 2]
    while done < reach:
        for length in (*drawn, dot):
            end = min(done + length, reach)
            if end > done:
                yield Stroke((_on(at, way, done), _on(at, way, end)), THIN, "centre")
            done = end + gap
        drawn = [long]


def _on(at: Point, way: Point, distance: float) -> Point:
    return (at[0] + way[0] * distance, at[1] + way[1] * distance)
