"""Dots, leaders and numbers moved off the signs that they would cover or pass behind; where signs are is told."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from planbook.drawing.cues import head
from planbook.drawing.marks import Fill, Mark, Point, Ring, Stroke
from planbook.drawing.names import KEEP, MARGIN, ON_FACE, Label, Layout, crossing
from planbook.drawing.words import disc
from planbook.solids.hatch import Taken, clearances, inside
from planbook.solids.hatch import taken as ground
from planbook.solids.visible import Polygon2

AIR = 0.7
"""Between a sign and a leader, its dot or a number on its disc, mm."""
OFF_LINES = 1.1
"""Between the middle of a dot and a line that it would hide, mm."""
LINES = ("cut line", "drill axis", "sand", "glue face")
LONGER = 1.5
"""A leader gets no more than so many times as long: one that goes far over the drawing is worse."""
SLIGHTLY = 7.0
"""One that hides no more than the tail of an arrow or a thin line gets no more than so much longer, mm."""
SHIFTS = (0.7, 1.4, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0)
"""How far a name is moved up or down, mm."""
GRID = 1.2
"""How far apart the places lie that are tried for a dot, mm; on large faces further."""
MOST = 900
"""So many places are tried on a face at most."""
FEW = 60
"""So many places are looked at in one go; mostly one of the first is clear."""
LOOKS = 14
"""At so many places a leader is looked at."""


@dataclass(frozen=True, slots=True)
class Signs:
    """Outlines of signs on paper: `whole` must not lie under a dot or a number, `heads` not over a leader either.

    `beside` are lines, such as those of a dimension, that no leader should cross; on `marks`, such as cut lines, no dot
    should lie.
    """

    whole: tuple[Ring, ...]
    heads: tuple[Ring, ...]
    beside: tuple[Ring, ...] = ()
    marks: tuple[Ring, ...] = ()


def taken(marks: Sequence[Mark], rings: Sequence[Ring] = (), beside: Sequence[Ring] = ()) -> Signs:
    """The arrows, clamps and lines among marks, rings of which all must stay whole, and lines beside them."""
    arrows = [
        ring for mark in marks if isinstance(mark, Fill) and mark.layer in ("push", "clamp") for ring in mark.rings
    ]
    lines = tuple(
        (*mark.points, mark.points[0]) if mark.closed else mark.points
        for mark in marks
        if isinstance(mark, Stroke) and mark.layer in LINES
    )
    return Signs((*arrows, *rings), (*(head(ring) for ring in arrows), *rings), tuple(beside), lines)


def clear_of(layout: Layout, signs: Signs) -> Layout:
    """The layout with those dots and numbers moved whose leader or disc meets a sign, where their face has room.

    What has no better place, and notes, which point at one spot, stay where they are.
    """
    if not any((signs.whole, signs.beside, signs.marks)) or not layout.labels:
        return layout
    labels = list(layout.labels)
    for n, label in enumerate(labels):
        if label.wanted.faces:
            labels[n] = _cleared(label, [*labels[:n], *labels[n + 1 :]], _beyond_ring(label, signs), layout)
    return replace(layout, labels=tuple(labels))


def _beyond_ring(label: Label, signs: Signs) -> Signs:
    """The signs for a leader that ends on a ring, which then is not in its way."""
    if not label.ring:
        return signs
    whole, heads = (tuple(ring for ring in rings if ring != label.ring) for rings in (signs.whole, signs.heads))
    return replace(signs, whole=whole, heads=heads, marks=())


def _cleared(label: Label, others: Sequence[Label], signs: Signs, layout: Layout) -> Label:
    """The label clear of all signs, of all but thin lines, or of all but the tails of arrows; else as it is."""
    whole = replace(signs, heads=signs.whole)
    (room,), (past,) = (rooms([label], each, layout.size) for each in (signs, whole))
    if past >= AIR and off_marks([label.dot], signs):
        return label
    spots = places(label, layout)
    long = math.dist(label.start, label.dot)
    tries = [(whole, off_marks(spots, signs), long + SLIGHTLY)]
    tries += [(whole, spots, long + SLIGHTLY)] if past < AIR else []
    tries += [(whole, spots, LONGER * long + KEEP), (signs, spots, LONGER * long + KEEP)] if room < AIR else []
    for asked, free, most in tries:
        found = _elsewhere(label, others, asked, layout, free, most)
        if found is not None:
            return found
    return _roomiest_disc(label, signs, layout, spots, room) if label.side == "on" and room < AIR else label


def off_marks(spots: Sequence[Point], signs: Signs) -> list[Point]:
    """Those places at which a dot lies on no thin line."""
    far = _ground((), signs.marks).clearances(spots)
    return [spot for spot, room in zip(spots, far, strict=True) if room >= OFF_LINES]


def _elsewhere(
    label: Label, others: Sequence[Label], signs: Signs, layout: Layout, spots: Sequence[Point], most: float
) -> Label | None:
    """The label at the nearest of some places that is clear of signs and of other leaders, its leader `most` mm long.

    Where no other dot is enough, the name is moved up or down its column too.
    """
    long, whole = math.dist(label.start, label.dot), _ground(signs.whole, ())
    least = AIR + (disc(layout.size) if label.side == "on" else 0.0)
    spots = [spot for spot, room in zip(spots, whole.clearances(spots), strict=True) if room >= least]
    found: list[tuple[float, Label]] = []
    for name in shifted(label, others, layout) if spots else ():
        near = [spot for spot in spots if name.side == "on" or math.dist(name.start, spot) <= most]
        clear = _first_clear(name, near, others, signs, layout.size)
        if clear is not None:
            cost = math.dist(clear.start, clear.dot) + math.dist(clear.start, label.start) / 2
            found.append((round(cost, 3), clear))
            if cost <= long + 1.0 or name.side == "on":
                break
    return min(found, key=lambda each: each[0])[1] if found else None


def _roomiest_disc(label: Label, signs: Signs, layout: Layout, spots: Sequence[Point], room: float) -> Label:
    """A number where its disc covers least of the signs, if that is better than where it is."""
    tried = [moved(label, spot) for spot in spots]
    far = rooms(tried, signs, layout.size)
    best = max(range(len(tried)), key=lambda k: (round(far[k], 2), -k), default=-1)
    return tried[best] if best >= 0 and far[best] > room + 0.2 else label


def _first_clear(
    name: Label, spots: Sequence[Point], others: Sequence[Label], signs: Signs, size: float
) -> Label | None:
    """The name at the first of some places that is clear of signs and of other leaders."""
    for start in range(0, len(spots), FEW):
        some = [moved(name, spot) for spot in spots[start : start + FEW]]
        for each, room in zip(some, rooms(some, signs, size), strict=True):
            if room >= AIR and not any(other.side != "on" and crossing(each, other) for other in others):
                return each
    return None


def shifted(label: Label, others: Sequence[Label], layout: Layout) -> list[Label]:
    """The label where it stands, and then at free places of its column, nearest first."""
    if label.side == "on":
        return [label]
    left, top, right, low = label.box
    column = [other.box for other in others if other.side == label.side]
    by = [sign * far for far in SHIFTS for sign in (-1, 1)]
    free = [
        far
        for far in by
        if top + far > MARGIN
        and low + far < layout.height - MARGIN
        and all(low + far + AIR < box[1] or top + far - AIR > box[3] for box in column)
    ]
    return [label, *(replace(label, box=(left, top + far, right, low + far)) for far in free)]


def _on_near_side(label: Label) -> list[Point]:
    """Places on the ring of a label that its leader reaches without crossing it, nearest first."""
    x, y = (sum(p[k] for p in label.ring) / len(label.ring) for k in (0, 1))
    u, v = label.start[0] - x, label.start[1] - y
    least = math.hypot(u, v) * math.dist(label.ring[0], (x, y)) / 2
    near = [p for p in label.ring if (p[0] - x) * u + (p[1] - y) * v > least]
    return sorted(near, key=lambda p: (round(math.dist(p, label.start), 3), p))


def places(label: Label, layout: Layout) -> list[Point]:
    """Where the dot may lie instead: with room to the edge of a face first, then the nearest to where it begins."""
    if label.ring:
        return _on_near_side(label)
    near = label.dot if label.side == "on" else label.start
    found: list[tuple[bool, float, Point]] = []
    for face in label.wanted.faces:
        polygons = layout.paper.polygons(face)
        spots = _grid(polygons)
        hits = [spot for spot, hit in zip(spots, inside(polygons, spots), strict=True) if hit] if spots else []
        edges = [(*ring, ring[0]) for outer, holes in polygons for ring in (outer, *holes)]
        keep = ON_FACE if label.side == "on" else KEEP
        for spot, room in zip(hits, clearances((), edges, hits), strict=True):
            if room > 0.4 * keep:
                found.append((room < keep, round(math.dist(spot, near), 3), spot))
    return [spot for _, _, spot in sorted(found)]


def _grid(polygons: Sequence[Polygon2]) -> list[Point]:
    corners = [p for outer, _ in polygons for p in outer]
    if not corners:
        return []
    (left, top), (right, low) = ([f(p[k] for p in corners) for k in (0, 1)] for f in (min, max))
    step = max(GRID, math.sqrt((right - left) * (low - top) / MOST))
    columns, rows = (int((b - a) / step) + 1 for a, b in ((left, right), (top, low)))
    return [(left + step * (i + 0.5), top + step * (j + 0.5)) for i in range(columns) for j in range(rows)]


def moved(label: Label, spot: Point) -> Label:
    """The label with its dot at another place; a number goes there itself."""
    if label.side != "on":
        return replace(label, dot=spot)
    dx, dy = spot[0] - label.dot[0], spot[1] - label.dot[1]
    left, top, right, low = label.box
    return replace(label, dot=spot, box=(left + dx, top + dy, right + dx, low + dy))


def rooms(tried: Sequence[Label], signs: Signs, size: float) -> list[float]:
    """How far each leader, or each disc, keeps from the signs, mm."""
    looks = [_looks(label) for label in tried]
    far = iter(_ground(signs.heads, signs.beside).clearances([point for each in looks for point in each]))
    least = [min(next(far) for _ in each) for each in looks]
    dots = _ground(signs.whole, ()).clearances([label.dot for label in tried])
    return [
        min(room, dot) - (disc(size) if label.side == "on" else 0.0)
        for label, room, dot in zip(tried, least, dots, strict=True)
    ]


@lru_cache(maxsize=8)
def _ground(rings: tuple[Ring, ...], lines: tuple[Ring, ...]) -> Taken:
    return ground([(ring, ()) for ring in rings], lines)


def _looks(label: Label) -> list[Point]:
    if label.side == "on":
        return [label.dot]
    (x, y), (u, v) = label.start, label.dot
    return [(x + (u - x) * k / LOOKS, y + (v - y) * k / LOOKS) for k in range(LOOKS + 1)]
