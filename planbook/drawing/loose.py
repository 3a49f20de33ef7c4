"""Places amid a drawing where a name may stand that would else have its leader over other pieces; draws nothing."""

from collections.abc import Sequence

import numpy as np

from planbook.drawing.marks import Point
from planbook.drawing.names import MARGIN, Box, Label, Layout, Side
from planbook.solids.hatch import Grounds, Taken
from planbook.solids.hatch import taken as ground

AIR = 1.8
"""Between a name and the drawing, a sign or another name, mm."""
GRID = 2.0
"""Between the places that are looked at, mm."""
MOST = 30
"""So many of them are tried, those nearest to the dot."""
LOOSE = 14.0
"""What it costs, as mm of the leader, that a name stands in no column."""


def loose_places(
    label: Label, others: Sequence[Label], layout: Layout, pieces: Grounds, signs: Taken
) -> list[tuple[Box, Side, float]]:
    """Free boxes for a name, nearest to its dot first, the side of the dot on which each lies, and what it costs."""
    left, top, right, low = label.box
    wide, tall = right - left, low - top
    across = np.arange(MARGIN + wide / 2, layout.width - MARGIN - wide / 2, GRID)
    down = np.arange(MARGIN + tall / 2, layout.height - MARGIN - tall / 2, GRID)
    middles = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    far = np.hypot(*(middles - label.dot).T)
    middles = middles[np.argsort(far.round(3), kind="stable")]
    middles = middles[np.abs(middles[:, 0] - label.dot[0]) > wide / 2 + AIR]
    if not len(middles):
        return []
    paper, half = layout.paper, np.array([wide / 2, 0.0])
    runs = [(k.start, k.dot) for k in others if k.side != "on"]
    names = ground([(_corners(k.box), ()) for k in others], runs)
    hit = np.zeros(len(middles), dtype=np.bool_)
    for share in (-0.5, 0.0, 0.5):
        row = middles + np.array([0.0, share * tall])
        one, two = ((row + by - [paper.x, paper.y]) / [paper.scale, -paper.scale] for by in (-half, half))
        hit |= pieces.near(one, two, AIR / paper.scale).any(axis=0)
        hit |= names.near(row - half, row + half, AIR) | signs.near(row - half, row + half, AIR)
    found: list[tuple[Box, Side, float]] = []
    for x, y in middles[~hit][:MOST].tolist():
        side: Side = "left" if x < label.dot[0] else "right"
        box = (x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)
        found.append((box, side, LOOSE))
    return found


def _corners(box: Box) -> tuple[Point, ...]:
    left, top, right, low = box
    return ((left, top), (right, top), (right, low), (left, low))
