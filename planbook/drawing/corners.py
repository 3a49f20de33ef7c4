"""Names in the corners that a drawing leaves empty, where columns would make it much smaller; draws nothing."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache, partial
from itertools import chain, islice

import numpy as np

from planbook.drawing.columns import Room, fitting
from planbook.drawing.loose import clear, places
from planbook.drawing.marks import Point, Ring
from planbook.drawing.names import MARGIN, Bounds, Box, Label, Layout, crossing, dots_of
from planbook.drawing.paper import Paper
from planbook.drawing.ways import AWAY
from planbook.drawing.wedge import ARROW, ahead, unit
from planbook.solids.columns import Bools
from planbook.solids.hatch import Grounds, Taken, grounds, taken
from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2

LARGER = 1.25
"""It is done where the drawing becomes so many times as large at least."""
MOST = 6
"""More names than this stand in columns, where they are found more easily."""
SMALLER = 0.93
"""Each scale that is tried is this share of the last."""
AIR = 1.8
"""Between a name and the drawing, the middle of an arrow, or another name, mm."""
ASIDE = 2.0
"""The leader leaves a name on the side, so the name does not stand above or below its spot, nor so near to it, mm."""
OVER, LOOKS = 2.0, 16
"""What each mm of a leader over other pieces costs, as mm further from the spot; at so many places it is looked."""
ALONG = 25.0
"""What it costs that a leader runs into a sign, such as the arrow of a push, which would hide it, mm further away."""
ASTRAY = 8.0
"""A leader that lies over other pieces for longer than this, mm, reads as that of one of them: then another scale, or
another order in which names take their places, is better.
"""
TRIED, FEW = 160, 4
"""So many places are tried for a name, those nearest to its spot; a quarter of them, and half of the scales, where
names are not `FEW`."""
GRID = 1.5
"""Between the places that are looked at, mm."""
AT_ONCE, LOT = 256, 32
"""So many places are looked at in one go, and of those that are free so many are tried in one go."""
_LOOKS = (np.arange(LOOKS) + 0.5) / LOOKS


def in_corners(
    layout: Layout, shapes: Sequence[Polygon2], signs: Sequence[Sequence[Point2]], edge: Bounds, room: Room
) -> Layout:
    """The layout with its names in the corners and its drawing larger, or as it is.

    What is drawn, and the lines of its signs from where they begin, are mm of the view.
    """
    if not 0 < len(layout.labels) <= MOST:
        return layout
    scale, others = fitting(edge, room), cache(partial(_others, layout.labels))
    numbered, first = [*enumerate(layout.labels)], None
    downwards = sorted(numbered, key=lambda each: each[1].box[1])
    rightwards = sorted(numbered, key=lambda each: (each[1].wanted.spot[0], each[1].box[1]))
    while scale > LARGER * layout.paper.scale:
        for order in (downwards, rightwards):
            found = _at(scale, layout, order, shapes, signs, edge, room, others)
            if found is not None and not _astray(found, order, others):
                return found
            first = first or found
        scale *= SMALLER if len(layout.labels) <= FEW else SMALLER**2
    return first or layout


def _astray(layout: Layout, order: Sequence[tuple[int, Label]], others: Callable[[int], Grounds]) -> bool:
    """Whether a leader lies over other pieces for so long that it reads as that of one of them."""
    labels = zip(order, layout.labels, strict=True)
    return any(_over_pieces([label], layout.paper, others(n))[0] > ASTRAY for (n, _), label in labels)


def _at(
    scale: float,
    layout: Layout,
    order: Sequence[tuple[int, Label]],
    shapes: Sequence[Polygon2],
    signs: Sequence[Sequence[Point2]],
    edge: Bounds,
    room: Room,
    others: Callable[[int], Grounds],
) -> Layout | None:
    """The layout at a scale; None where a name finds no place. `order` is that of the labels with their numbers, and
    `others` are all other pieces than that of a label.
    """
    before, above, after, below = (room.pad + out for out in room.signs)
    across, up = (edge[2] - edge[0]) * scale, (edge[3] - edge[1]) * scale
    start = (layout.width - across + before - after) / 2
    paper = Paper(scale, start - edge[0] * scale, MARGIN + above + edge[3] * scale)
    high = 2 * MARGIN + above + up + below
    lines = [_long([paper.put(p) for p in line]) for line in signs]
    ground, arrows = taken(paper.polygons(shapes), lines), taken((), lines)
    placed: list[Label] = []
    tried = TRIED
    for n, label in order:
        found = _free(label, paper, ground, arrows, others(n), placed, (layout.width, high), tried)
        if found is None:
            return None
        placed.append(found)
    return replace(layout, paper=paper, labels=tuple(placed), height=high, columns=False)


def _others(labels: Sequence[Label], number: int) -> Grounds:
    """What is seen of the pieces of all labels but one, mm of the view."""
    areas = [[q for face in k.wanted.faces for q in face] for n, k in enumerate(labels) if n != number]
    return grounds([polygons for polygons in areas if polygons])


def _long(line: Sequence[Point]) -> Ring:
    """The line of a sign on paper, at least as long as an arrow is."""
    along = unit(line[-1], line[0])
    return (ahead(line[-1], along, max(math.dist(line[0], line[-1]), ARROW) + AIR), *line)


def _free(
    label: Label,
    paper: Paper,
    ground: Taken,
    arrows: Taken,
    pieces: Grounds,
    placed: Sequence[Label],
    size: tuple[float, float],
    tried: int,
) -> Label | None:
    """A name at the free place nearest to its spot, its leader clear of the others, and off other pieces if it can."""
    left, top, right, bottom = label.box
    wide, tall = right - left, bottom - top
    spot = paper.put(label.wanted.spot)
    middles = places((wide, tall), size, GRID)
    middles = middles[np.abs(middles[:, 0] - spot[0]) >= wide / 2 + ASIDE]
    far = np.hypot(*(middles - spot).T)
    middles = middles[np.lexsort((middles[:, 1], middles[:, 0], far.round(3)))]
    # Most names find a place near their spot, so the nearest places are looked at first.
    nearest = (middles[k : k + AT_ONCE] for k in range(0, len(middles), AT_ONCE))
    free = chain.from_iterable(clear(some, (wide, tall), partial(ground.near, far=AIR)).tolist() for some in nearest)
    best: tuple[float, Label] | None = None
    every = islice(free, tried)
    while some := [(math.dist(at, spot), at) for at in islice(every, LOT)]:
        boxes = [(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2) for _, (x, y) in some]
        apart = [k for k, box in enumerate(boxes) if all(_clear_of(box, other.box) for other in placed)]
        moved = _led([_at_box(label, boxes[k], spot) for k in apart], paper)
        costs = OVER * np.asarray(_over_pieces(moved, paper, pieces)) + ALONG * _along_arrows(moved, arrows)
        for cost, _, one in sorted(
            (some[k][0] + c, k, m) for k, c, m in zip(apart, costs.tolist(), moved, strict=True)
        ):
            if best is not None and cost >= best[0]:
                break
            away = (one.dot[0] - one.start[0]) * (1.0 if one.side == "left" else -1.0)
            if away > AWAY and all(_apart(one, other) for other in placed):
                best = (cost, one)
        if best is not None and some[-1][0] >= best[0]:
            break
    return best[1] if best is not None else None


def _at_box(label: Label, box: Box, spot: Point) -> Label:
    """A name in a box amid the drawing; its leader is not there yet."""
    return replace(label, side="left" if (box[0] + box[2]) / 2 < spot[0] else "right", box=box, loose=True)


def _led(labels: Sequence[Label], paper: Paper) -> list[Label]:
    """One name at several places, with its leaders."""
    if not labels:
        return []
    dots = dots_of(labels[0].wanted, np.array([label.start for label in labels]), paper)
    return [replace(label, dot=dot) for label, dot in zip(labels, dots, strict=True)]


def _over_pieces(labels: Sequence[Label], paper: Paper, pieces: Grounds) -> list[float]:
    """For how far the leader of each of some names lies over other pieces, mm on paper."""
    if not len(pieces) or not labels:
        return [0.0] * len(labels)
    ends = [(paper.lifted(label.start), paper.lifted(label.dot)) for label in labels]
    start, end = np.array(ends).transpose(1, 0, 2)[:, :, None]
    at = start + _LOOKS[:, None] * (end - start)
    shares = pieces.hold(at.reshape(-1, 2)).any(axis=0).reshape(-1, LOOKS).mean(axis=1)
    return [share * math.dist(k.start, k.dot) for share, k in zip(shares.tolist(), labels, strict=True)]


def _along_arrows(labels: Sequence[Label], arrows: Taken) -> Bools:
    """Which leaders of some names run into a sign."""
    if not labels:
        return np.zeros(0, dtype=np.bool_)
    starts, dots = (np.array([getattr(label, end) for label in labels]) for end in ("start", "dot"))
    return arrows.near(starts, dots, AIR / 2)


def _apart(one: Label, two: Label) -> bool:
    """Whether two names have air between them, and neither their leaders nor a leader and a name cross."""
    a, b = one.box, two.box
    return _clear_of(a, b) and not crossing(one, two) and not _over(one, b) and not _over(two, a)


def _clear_of(a: Box, b: Box) -> bool:
    return a[2] + AIR < b[0] or b[2] + AIR < a[0] or a[3] + AIR < b[1] or b[3] + AIR < a[1]


def _over(label: Label, box: Box, air: float = 1.0) -> bool:
    """Whether the leader of a name runs over a box with this air around it, mm."""
    first, last = 0.0, 1.0  # the shares of its way between which it is neither beside nor above or below the box
    for start, end, low, high in zip(label.start, label.dot, box[:2], box[2:], strict=True):
        if start == end:
            if not low - air < start < high + air:
                return False
        else:
            enters, leaves = sorted(((low - air - start) / (end - start), (high + air - start) / (end - start)))
            first, last = max(first, enters), min(last, leaves)
    return first < last
