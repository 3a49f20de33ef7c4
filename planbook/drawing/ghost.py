"""The previous state of a step as a thin outline: of which wood, where it helps, and its marks."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from planbook.drawing.ink import LINE
from planbook.drawing.look import Look
from planbook.drawing.marks import Mark, Pen, Point, Ring, Stroke
from planbook.drawing.paper import Paper, divided
from planbook.drawing.sight import front_at
from planbook.drawing.surfaces import CREASE_DEG
from planbook.solids import Solid
from planbook.solids.bare_edges import bare_edges
from planbook.solids.hatch import clearances
from planbook.solids.plane import Point2
from planbook.solids.visible import Body, View
from planbook.workshop.registry import operation_of
from planbook.workshop.timeline import Event, Lost, Piece, Shown

PEN = Pen(0.13, LINE, (2.6, 0.55, 0.05, 0.55, 0.05, 0.55))
"""The long-dashed double-dotted narrow line, for the outline before forming (ISO 128-2, line type 05.1)."""
LAYER = "ghost"
LEAST = 3.0
"""What is shorter than this on paper, mm, explains nothing."""
AWAY = 1.5
"""What comes nowhere further than this from the lines of today, mm on paper, only makes them thick."""
AWAY_NEAR = 0.7
"""The same in an enlargement, which is there for what is small."""
LARGE = 100.0
"""A picture is drawn about so large, mm on paper: what would be too near then is not looked at any more."""
APART = 0.35
"""A stretch this close to a line of today, mm on paper, is that line."""
CROSSED = 4
"""An outline that is broken by lines of today more often than this is a tangle."""
GROWS = 1.25
"""A picture that would have to be so many times as wide or as high for it is better without."""
THIN = 0.006
"""What is thinner than this share of the picture is nearer than AWAY to the lines of today."""
FINE = 250
"""How many times along the picture an edge is looked at."""
FINE_NEAR = 80
"""The same along an enlargement."""
_STEP = 0.4
"""How closely a line is looked at, mm on paper."""

Lines = tuple[tuple[Point2, ...], ...]


def with_gone(event: Event) -> Event:
    """The event with the wood that was taken off each of its pieces, where that helps a reader."""
    if event.show is None or not operation_of(event).DRAWN.old_edges:
        return event
    shown = list(event.show.pieces)
    for taken in event.taken:
        gone = _gone_of(taken, event.lost, len(event.taken) == 1)
        heirs = [n for n, s in enumerate(shown) if taken.name in (s.piece.name, *s.piece.sources)]
        if gone and heirs:
            heir = max(heirs, key=lambda n: (shown[n].piece.solid.volume, -n))
            shown[heir] = replace(shown[heir], gone=(*shown[heir].gone, *gone))
    return replace(event, show=replace(event.show, pieces=tuple(shown)))


def _gone_of(taken: Piece, lost: Sequence[Lost], alone: bool) -> tuple[Solid, ...]:
    """What was lost of a piece; a saw cut alone is no more than the line where it parts."""
    mine = [each for each in lost if not each.solid.empty and (alone or _part_of(each.solid, taken.solid))]
    sawn_off = any(each.how == "trim" for each in mine)
    return tuple(each.solid for each in mine if each.how != "kerf" or sawn_off)


def _part_of(part: Solid, whole: Solid) -> bool:
    (low, high), (least, most) = part.bounds, whole.bounds
    if any(a < b - 1e-3 or c > d + 1e-3 for a, b, c, d in zip(low, least, high, most, strict=True)):
        return False
    return part.meet(whole).volume > 0.5 * part.volume


def with_all_gone(shown: Sequence[Shown], alike: Sequence[Event]) -> tuple[Shown, ...]:
    """The pieces of a picture of several events, each with the wood that all of them took off it."""
    gone: dict[str, tuple[Solid, ...]] = {}
    for each in (s for event in alike if event.show for s in event.show.pieces):
        gone[each.piece.name] = (*gone.get(each.piece.name, ()), *each.gone)
    return tuple(replace(each, gone=gone.get(each.piece.name, ())) for each in shown)


def outline(pieces: Sequence[Shown], look: Look) -> Lines:
    """Edges of what is gone, in the plane of the view, mm: bare today, and not so far out that the rest gets small."""
    left, bottom, right, top = look.bounds
    size = max(right - left, top - bottom)
    thick = [replace(shown, gone=tuple(g for g in shown.gone if _thickness(g) > THIN * size)) for shown in pieces]
    found = _bare(thick, look.view, size / FINE)
    if not drawn(found, look, Paper(LARGE / size, 0.0, 0.0)):
        return ()
    points = np.array([[*p] for line in found for p in line]).reshape(-1, 2)
    wide = max(right, points[:, 0].max(initial=right)) - min(left, points[:, 0].min(initial=left))
    high = max(top, points[:, 1].max(initial=top)) - min(bottom, points[:, 1].min(initial=bottom))
    return found if wide <= GROWS * (right - left) and high <= GROWS * (top - bottom) else ()


def outline_near(pieces: Sequence[Shown], part: Look) -> Lines:
    """The same within the bounds of a part of the view, however thin what is gone may be."""
    return _bare(pieces, part.view, (part.bounds[2] - part.bounds[0]) / FINE_NEAR, part.bounds)


def _thickness(solid: Solid) -> float:
    """About how thick a solid is, mm: exact for a large plate, half for a rod."""
    return 2.0 * solid.volume / max(solid.surface, 1e-9)


def _bare(
    pieces: Sequence[Shown], view: View, step: float, within: tuple[float, float, float, float] | None = None
) -> Lines:
    bodies: list[Body] = []
    for shown in pieces:
        if shown.gone:
            first, *others = shown.gone
            vertices, triangles = first.plus(*others).mesh if others else first.mesh
            bodies.append(Body(str(len(bodies)), vertices, triangles, at=shown.apart))
    if not bodies:
        return ()
    standing = front_at([(s.piece.solid, s.apart) for s in pieces], view)
    return bare_edges(bodies, standing, view, CREASE_DEG, step, within)


def drawn(lines: Lines, look: Look, paper: Paper, signs: Sequence[Ring] = (), away: float = AWAY) -> tuple[Stroke, ...]:
    """The marks of an outline where it helps: long enough, `away` from the lines of today and those of `signs`, mm of
    paper, and no tangle with them.
    """
    if not lines:
        return ()
    today = [*(tuple(paper.put(p) for p in line.points) for line in look.lines), *signs]
    helping = _helping([tuple(paper.put(p) for p in line) for line in lines], today, away)
    return tuple(Stroke(line, PEN, LAYER) for run in helping if len(line := _slim(run)) > 1)


def _helping(lines: Sequence[Ring], today: Sequence[Ring], away: float) -> list[Ring]:
    """Of lines on paper, the stretches that show a reader something."""
    found: list[Ring] = []
    for part in _hanging_together(lines):
        fine = [divided(line, _STEP) for line in part]
        far = clearances((), today, [p for line in fine for p in line])
        ends = np.cumsum([len(line) for line in fine]).tolist()
        runs = [r for line, end in zip(fine, ends, strict=True) for r in _clear(line, far[end - len(line) : end])]
        if _length(part) >= LEAST and max(far) >= away and len(runs) <= len(part) + CROSSED:
            found += runs
    return found


def lines_of(marks: Iterable[Mark]) -> list[Ring]:
    """The cut lines among the marks of signs: as the old edge often is where the cut begins, they stand for it."""
    strokes = (mark for mark in marks if isinstance(mark, Stroke) and mark.layer == "cut line")
    return [(*mark.points, mark.points[0]) if mark.closed else mark.points for mark in strokes]


def _clear(line: Ring, far: Sequence[float]) -> list[Ring]:
    """The stretches of a line that are no line of today."""
    runs: list[list[Point]] = [[]]
    for point, room in zip(line, far, strict=True):
        if room > APART:
            runs[-1].append(point)
        elif runs[-1]:
            runs.append([])
    return [tuple(run) for run in runs if len(run) > 1]


def _hanging_together(lines: Iterable[Ring]) -> list[list[Ring]]:
    """Lines in parts, of which no two have an end in common."""
    parts: list[tuple[set[Point], list[Ring]]] = []
    for line in lines:
        ends = {_rounded(line[0]), _rounded(line[-1])}
        touching = [part for part in parts if part[0] & ends]
        parts = [part for part in parts if not part[0] & ends]
        parts.append((ends.union(*(p[0] for p in touching)), [*(each for p in touching for each in p[1]), line]))
    return [part for _, part in parts]


def _rounded(point: Point) -> Point:
    return (round(point[0], 1), round(point[1], 1))


def _length(lines: Iterable[Ring]) -> float:
    return sum(math.dist(a, b) for line in lines for a, b in pairwise(line))


def _slim(run: Ring) -> Ring:
    return Paper(1.0, 0.0, 0.0).line(tuple((x, -y) for x, y in run))
