"""Where else a leader may go: other spots of its face for the dot, other places of its columns for the name."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from planbook.drawing.marks import Ring
from planbook.drawing.names import KEEP, MARGIN, ON_FACE, Box, Label, Layout, Side, Wanted
from planbook.drawing.surfaces import Floats, Ints
from planbook.solids.hatch import bounds_of, held, off_edges, roomy_point
from planbook.solids.visible import Polygon2

LONGER = 1.5
"""A leader gets no more than so many times as long, and the room that a dot keeps besides."""
SHIFTS = (0.7, 1.4, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0)
"""How far a name is moved up or down, mm."""
ASIDE = 0.7
"""Between a name that is moved and its neighbours, mm."""
GRID = 1.2
"""How far apart the places lie that are tried for a dot, mm; on large faces further."""
MOST = 160
"""So many places are tried on a face at most."""
MANY = 1500
"""The same on one that is so thin that it holds none of them."""
FEW = 12
"""So many of those are kept."""
ROOMY = 0.7
"""On such a face a dot keeps this share of the most room from its edge."""
SPOTS = 60
"""So many of the places are tried for a name that is moved."""
NARROW, THIN = 6.0, 15.0
"""What it costs, as mm of the leader, that a dot has little room to the edge of its face, and hardly any."""
SMALL = 3.0
"""The same, that it lies on a smaller face."""
ACROSS, LEVEL = 6.0, 0.5
"""What it costs that a name changes its column, and each mm that it is moved from where it stands."""


@dataclass(frozen=True, eq=False, slots=True)
class Ways:
    """Leaders from some names to some `spots` (k,2): of each its name and its spot by number, (n,).

    `price` (n,) is what it costs, as mm of its length, that a name is moved and that its dot has little room.
    """

    names: tuple[Label, ...]
    spots: Floats
    name: Ints
    spot: Ints
    starts: Floats
    dots: Floats
    long: Floats
    price: Floats
    on: bool

    @staticmethod
    def present(labels: Sequence[Label]) -> "Ways":
        """The ways that labels have, which are either all numbers on faces or none."""
        each = np.arange(len(labels))
        on, dots = labels[0].side == "on", np.array([label.dot for label in labels])
        starts = dots if on else np.array([label.start for label in labels])
        return Ways(tuple(labels), dots, each, each, starts, dots, _long(starts, dots), np.zeros(len(labels)), on)

    def only(self, which: Ints) -> "Ways":
        """Some of the ways."""
        return replace(
            self,
            name=self.name[which],
            spot=self.spot[which],
            starts=self.starts[which],
            dots=self.dots[which],
            long=self.long[which],
            price=self.price[which],
        )

    def label(self, way: int) -> Label:
        """The label on one of the ways; a number goes to the spot itself."""
        name = self.names[int(self.name[way])]
        x, y = self.spots[int(self.spot[way])].tolist()
        if not self.on:
            return replace(name, dot=(x, y))
        dx, dy = x - name.dot[0], y - name.dot[1]
        left, top, right, low = name.box
        return replace(name, dot=(x, y), box=(left + dx, top + dy, right + dx, low + dy))


AWAY = 1.0
"""A leader of a name that stands in no column goes so far to the side, or it would touch the name, mm."""


Place = tuple[Box, Side, float]
"""Where a name may stand: on which side of its dot that is, and what it costs, as mm of the leader."""


def ways_of(label: Label, others: Sequence[Label], layout: Layout, loose: Sequence[Place] = ()) -> Ways:
    """The ways that a label may take besides the one that it has; a name may also stand at `loose` places."""
    if label.ring:
        spots = np.array([label.dot, *_on_near_side(label)])
        tight = np.zeros(len(spots))
    else:
        free, narrow = _free(label.wanted, layout.paper.scale, label.side == "on")
        scale = layout.paper.scale
        spots = np.concatenate([[label.dot], free * [scale, -scale] + [layout.paper.x, layout.paper.y]])
        tight = np.concatenate([[0.0], narrow])
    stays = label.side == "on" or not layout.columns
    moved = [*loose] if stays else [*_shifted(label, others, layout), *_across(label, others, layout), *loose]
    fixed = len(moved) - len(loose)
    names = [label, *(replace(label, box=m[0], side=m[1], loose=k >= fixed) for k, m in enumerate(moved))]
    found = _ways(names, spots, np.array([0.0, *(cost for _, _, cost in moved)]), tight)
    if found.on:
        return found
    most = LONGER * math.dist(label.start, label.dot) + KEEP
    side = np.array([1.0 if name.side == "left" else -1.0 for name in names])[found.name]
    aside = (found.dots - found.starts)[:, 0] * side > AWAY
    column = layout.columns & np.array([not name.loose for name in names])[found.name]
    return found.only(np.flatnonzero((found.long <= most) & (column | aside)))


def _ways(names: Sequence[Label], spots: Floats, moved: Floats, tight: Floats) -> Ways:
    name, spot = (each.reshape(-1) for each in np.mgrid[: len(names), : len(spots)])
    tried = (name == 0) | (spot % math.ceil(len(spots) / SPOTS) == 0)
    name, spot = name[tried], spot[tried]
    on = names[0].side == "on"
    dots = spots[spot]
    starts = np.array([each.dot if on else each.start for each in names])[name]
    return Ways(tuple(names), spots, name, spot, starts, dots, _long(starts, dots), moved[name] + tight[spot], on)


def _long(starts: Floats, dots: Floats) -> Floats:
    found: Floats = np.hypot(*(dots - starts).T)
    return found


def _shifted(label: Label, others: Sequence[Label], layout: Layout) -> list[Place]:
    """Free places of the column of a name, and what they cost."""
    left, top, right, low = label.box
    by = [sign * far for far in SHIFTS for sign in (-1, 1)]
    boxes = [((left, top + far, right, low + far), LEVEL * abs(far)) for far in by]
    return [(box, label.side, cost) for box, cost in boxes if _stands(box, label.side, others, layout)]


def _across(label: Label, others: Sequence[Label], layout: Layout) -> list[Place]:
    """Free places of the other column about the height of the dot, where there is a column."""
    left, top, right, low = label.box
    side: Side = "right" if label.side == "left" else "left"
    wide, tall = right - left, low - top
    edges = [other.box[0 if side == "right" else 2] for other in others if other.side == side and not other.loose]
    if not edges:
        return []
    start = min(edges) if side == "right" else max(edges) - wide
    if start < MARGIN or start + wide > layout.width - MARGIN:
        return []
    found: list[Place] = []
    for far in (0.0, *(sign * far for far in SHIFTS[3:] for sign in (-1, 1))):
        box = (start, label.dot[1] - tall / 2 + far, start + wide, label.dot[1] + tall / 2 + far)
        if _stands(box, side, others, layout):
            found.append((box, side, ACROSS + LEVEL * abs(far)))
    return found


def _stands(box: Box, side: Side, others: Sequence[Label], layout: Layout) -> bool:
    """Whether a name has room at a place of its column."""
    inside = box[1] > MARGIN and box[3] < layout.height - MARGIN
    column = (other.box for other in others if other.side == side or other.loose)
    return inside and all(
        box[3] + ASIDE < each[1] or box[1] - ASIDE > each[3] or box[2] + ASIDE < each[0] or box[0] - ASIDE > each[2]
        for each in column
    )


def _on_near_side(label: Label) -> Ring:
    """Places on the ring of a label that its leader reaches without crossing it."""
    x, y = (sum(p[k] for p in label.ring) / len(label.ring) for k in (0, 1))
    u, v = label.start[0] - x, label.start[1] - y
    least = math.hypot(u, v) * math.dist(label.ring[0], (x, y)) / 2
    return tuple(p for p in label.ring if (p[0] - x) * u + (p[1] - y) * v > least)


@lru_cache(maxsize=64)
def _free(wanted: Wanted, scale: float, on: bool) -> tuple[Floats, Floats]:
    """Places on faces where a dot may lie, mm of the view (n,2), and what it costs where an edge is near (n,)."""
    keep = (ON_FACE if on else KEEP) / scale
    spots, narrow = [np.zeros((0, 2))], [np.zeros(0)]
    for face, dear in [*((face, 0.0) for face in wanted.faces), *((face, SMALL) for face in wanted.more)]:
        tried, off = _within(face, GRID / scale, MOST, 0.4 * keep)
        thin = not len(tried) and not on
        if thin:
            room = ROOMY * roomy_point(face, 0.0)[1]
            tried, off = _within(face, room, MANY, room)
            few = slice(None, None, max(1, math.ceil(len(tried) / FEW)))
            tried, off = tried[few], off[few]
        spots.append(tried)
        narrow.append(dear + np.where(off <= keep, THIN if thin else NARROW, 0.0))
    return np.concatenate(spots), np.concatenate(narrow)


def _within(face: tuple[Polygon2, ...], least: float, most: int, keep: float) -> tuple[Floats, Floats]:
    """The places of a grid that lie on a face and keep off its edges, and how far off they are."""
    tried = held(face, _grid(bounds_of(face), least, most))
    off = off_edges(face, tried)
    return tried[off > keep], off[off > keep]


def _grid(bounds: Floats, least: float, most: int) -> Floats:
    """The middles of the squares of a grid within bounds (left, low, right, high); none where these are not known."""
    wide, high = (bounds[2:] - bounds[:2]).tolist()
    if math.isnan(wide):
        return np.zeros((0, 2))
    step = max(least, math.sqrt(wide * high / most))
    across, up = np.arange(int(wide / step) + 1), np.arange(int(high / step) + 1)
    places = np.stack([np.repeat(across, len(up)), np.tile(up, len(across))], 1)
    found: Floats = bounds[:2] + step * (places + 0.5)
    return found
