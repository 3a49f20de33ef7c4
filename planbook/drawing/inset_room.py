"""Where an enlargement finds room beside a drawing, and how names make way for it; draws nothing."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.detail import Detail
from planbook.drawing.inset import AIR, CLEAR, FOOT, LETTERS, RADII, Inset, boxed, circle, scale_text
from planbook.drawing.lettering import width_of
from planbook.drawing.look import flat
from planbook.drawing.marks import Point, Ring
from planbook.drawing.names import MARGIN, Label, Layout, cross
from planbook.drawing.paper import Paper
from planbook.drawing.stage import Stage
from planbook.drawing.surfaces import Floats, Ints
from planbook.solids.figures import points_of
from planbook.solids.hatch import Taken, clip_lines, taken

TIMES = (2, 3, 4, 5, 6, 8, 10, 12)
"""How many times larger an inset may show its place."""
NEAR = 12.0
"""An inset whose line costs no more than this, mm, is near enough: no other place of the step is tried."""
FAR = (24.0, math.inf)
"""Where none is, so far off is looked for one at each place of the step, one after the other, mm."""
OVER_LEADER, OVER_SIGN, SMALLER = 25.0, 12.0, 3.0
"""What it costs, as mm of its line, that it crosses a leader, or a sign, and each mm that an inset is smaller."""
LATER = 3.0
"""The same for each place of the step that would be enlarged before it."""
_GRID = 2.0
_SOME = 100
"""So many places are looked at in one go, the nearest first."""


class Bare:
    """A drawing without its names on paper, and what is known of where an inset keeps clear of it.

    That is the same for all places of a step that may be enlarged, so each spot of the paper is asked about once.
    """

    def __init__(self, stage: Stage, paper: Paper, width: float, height: float) -> None:
        self.stage, self.paper = stage, paper
        self.ground = taken(paper.polygons(q for face in stage.look.faces for q in face.polygons), [])
        self.spots = {radius: _spots(width, height, radius) for radius in RADII}
        self._known = {radius: np.zeros(len(spots), dtype=np.bool_) for radius, spots in self.spots.items()}
        self._clear = {radius: np.zeros(len(spots), dtype=np.bool_) for radius, spots in self.spots.items()}

    def spot(self, detail: Detail) -> Point:
        """The middle of a place to enlarge."""
        return self.paper.put(flat(self.stage.look.view, detail.spot))

    def clear(self, radius: float, numbers: Ints) -> NDArray[np.bool_]:
        """Which of the spots for an inset, given by their numbers, are clear of the drawing."""
        known, clear = self._known[radius], self._clear[radius]
        asked = numbers[~known[numbers]]
        spots = self.spots[radius][asked]
        clear[asked], known[asked] = ~self.ground.near(spots, spots, radius + AIR), True
        found: NDArray[np.bool_] = clear[numbers]
        return found

    def nearest_first(self, spot: Point, radius: float, larger: int, far: float) -> Iterator[Ints]:
        """Numbers of the spots nearer than `far` that do not touch the ring around a place, some at a time."""
        spots = self.spots[radius]
        off = np.hypot(*(spots - spot).T)
        apart = np.flatnonzero((off >= radius + radius / larger + CLEAR) & (off < far))
        ordered = apart[np.lexsort((spots[apart, 1], spots[apart, 0], off[apart].round(3)))]
        return (ordered[k : k + _SOME] for k in range(0, len(ordered), _SOME))


def placed(detail: Detail, bare: Bare, layout: Layout, signs: Sequence[Ring], most: float = math.inf) -> Inset | None:
    """An inset for which there is room on the paper of a layout, as near to its place and as large as can be.

    It keeps clear of the lines of `signs`, and where that does not take it too far away, its line crosses neither them
    nor a leader. None if there is none that costs less than `most`.
    """
    spot = bare.spot(detail)
    boxes = [boxed(label.box) for label in layout.labels]
    runs = [(label.start, label.dot) for label in layout.labels if label.side != "on"]
    ground = taken(boxes, [*runs, *signs])
    best: Inset | None = None
    for radius in RADII:
        larger = larger_by(detail, layout.paper.scale, radius)
        if larger is None:
            continue
        lost, inner = SMALLER * (RADII[0] - radius), radius / larger
        for middle, up in _free(spot, bare, radius, larger, ground, most - lost + radius + inner):
            if math.dist(middle, spot) - radius - inner + lost >= most:
                break
            if not clip_lines(boxes, [(spot, middle)]):
                cost = lost + _cost(_line(spot, middle, inner, radius), runs, signs)
                if cost < most:
                    best, most = Inset(detail, middle, radius, larger, up, cost), cost
        if best is not None and best.cost < NEAR:
            return best
    return best


def _free(
    spot: Point, bare: Bare, radius: float, larger: int, ground: Taken, far: float
) -> Iterator[tuple[Point, bool]]:
    """Free places for the middle of an inset up to `far` off, nearest first, and whether its scale stands above it."""
    wide, around = width_of(scale_text(larger), LETTERS) / 2, taken((), [circle(spot, radius / larger)])
    for some in bare.nearest_first(spot, radius, larger, far):
        free = bare.spots[radius][some[bare.clear(radius, some)]]
        free = free[~ground.near(free, free, radius + AIR)]
        over = _crossed(spot, free, radius, wide)
        feet = free + np.where(over, -1, 1)[:, None] * [0.0, radius + 0.7 * LETTERS]
        room = ~over | (free[:, 1] > radius + MARGIN + FOOT)
        for each in (ground, bare.ground, around):
            at = feet[room]
            room[room] = ~each.near(at, at, wide + AIR)
        for middle, up in zip(free[room].tolist(), over[room].tolist(), strict=True):
            yield (middle[0], middle[1]), up


def _line(spot: Point, middle: Point, inner: float, radius: float) -> tuple[Point, Point]:
    """The line from the ring of a place to an inset."""
    far = max(math.dist(spot, middle), 1e-9)
    along = ((middle[0] - spot[0]) / far, (middle[1] - spot[1]) / far)
    start, end = min(inner, far), max(far - radius, 0.0)
    return (
        (spot[0] + along[0] * start, spot[1] + along[1] * start),
        (spot[0] + along[0] * end, spot[1] + along[1] * end),
    )


def _cost(line: tuple[Point, Point], leaders: Sequence[tuple[Point, Point]], signs: Sequence[Ring]) -> float:
    """How long a line to an inset is, mm, and what it crosses."""
    ends = np.array([end for _, end in leaders]).reshape(-1, 2)
    near: list[bool] = taken((), [line]).near(ends, ends, AIR).tolist()
    crossed = sum(cross(*line, *leader) or close for leader, close in zip(leaders, near, strict=True))
    over = sum(any(cross(*line, *side) for side in pairwise(sign)) for sign in signs)
    return math.dist(*line) + OVER_LEADER * crossed + OVER_SIGN * over


def _crossed(spot: Point, middles: Floats, radius: float, wide: float) -> NDArray[np.bool_]:
    """Whether the line from an inset to its place would run through words that are `wide` mm to each side below it."""
    across, down = (spot - middles).T
    found: NDArray[np.bool_] = (down > 0) & (np.abs(across) * radius < down * (wide + 0.5))
    return found


def beside(detail: Detail, stage: Stage, layout: Layout, left: float) -> Inset | None:
    """An inset in a strip that was kept free for it, from `left` on; its height follows its place."""
    radius = RADII[-1]
    larger = larger_by(detail, layout.paper.scale, radius)
    x, y = layout.paper.put(flat(stage.look.view, detail.spot))
    lowest = max(layout.height - radius - MARGIN - FOOT, radius + MARGIN)
    middle = (left + radius, min(max(y, radius + MARGIN), lowest))
    if larger is None or math.dist(middle, (x, y)) < radius + radius / larger + CLEAR:
        return None
    return Inset(detail, middle, radius, larger)


def place_of(detail: Detail, stage: Stage, paper: Paper) -> Ring:
    """The largest ring that may be drawn around a place to enlarge, on paper."""
    found = [(radius, larger_by(detail, paper.scale, radius)) for radius in RADII]
    rings = [radius / larger for radius, larger in found if larger is not None]
    return circle(paper.put(flat(stage.look.view, detail.spot)), max(rings, default=detail.radius * paper.scale))


def to_ring(layout: Layout, ring: Ring) -> Layout:
    """The layout with the leaders of those pieces that lie wholly within a ring ending on it: a dot would hide them."""
    middle = layout.paper.lifted(_middle(ring))
    radius = math.dist(_middle(ring), ring[0]) / layout.paper.scale

    def within(label: Label) -> bool:
        corners = points_of([outer for face in label.wanted.faces for outer, _ in face])
        return label.side != "on" and len(corners) > 0 and bool((np.hypot(*(corners - middle).T) < radius).all())

    return replace(layout, labels=tuple(_on_ring(k, ring, k.start) if within(k) else k for k in layout.labels))


def joined(layout: Layout, ring: Ring) -> Layout:
    """The layout with those leaders that end on a ring brought to the one that is drawn."""
    return replace(layout, labels=tuple(_on_ring(k, ring, k.dot) if k.ring else k for k in layout.labels))


def _on_ring(label: Label, ring: Ring, toward: Point) -> Label:
    return replace(label, dot=min(ring, key=lambda p: (round(math.dist(p, toward), 3), p)), ring=ring)


def _middle(ring: Ring) -> Point:
    return (sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring))


def larger_by(detail: Detail, scale: float, radius: float) -> int | None:
    """How many times larger the place may be drawn so that all of it is within the ring; None if hardly larger."""
    return next((k for k in reversed(TIMES) if k * detail.radius * scale <= radius), None)


def _spots(width: float, height: float, radius: float) -> Floats:
    """Where the middle of an inset may lie on the paper (n,2)."""
    edge, foot = radius + MARGIN, radius + MARGIN + FOOT
    across, down = (max(0, int((room - edge - end) / _GRID)) for room, end in ((width, edge), (height, foot)))
    if width < 2 * edge or height < edge + foot:
        return np.zeros((0, 2))
    i, k = (each.reshape(-1) for each in np.mgrid[: across + 1, : down + 1])
    return edge + _GRID * np.stack([i, k], 1)
