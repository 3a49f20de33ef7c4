"""Places amid a drawing where a name may stand that would else have its leader over other pieces; draws nothing."""

from collections.abc import Sequence

import numpy as np

from planbook.drawing.marks import Point
from planbook.drawing.names import MARGIN, Box, Label, Layout, Side
from planbook.drawing.surfaces import Floats
from planbook.solids.hatch import Grounds, Taken
from planbook.solids.hatch import taken as ground

AIR = 1.8
"""Between a name and the drawing, a sign or another name, mm."""
GRID = 2.0
"""Between the places that are looked at, mm."""
MOST = 30
"""So many of them are tried, those nearest to the dot."""
AT_ONCE = 128
"""So many places are looked at in one go."""
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
    runs = [(k.start, k.dot) for k in others if k.side != "on"]
    names = ground([(_corners(k.box), ()) for k in others], runs)
    free: list[list[float]] = []
    for start in range(0, len(middles), AT_ONCE):
        free += _clear(middles[start : start + AT_ONCE], (wide, tall), layout, pieces, (names, signs)).tolist()
        if len(free) >= MOST:
            break
    found: list[tuple[Box, Side, float]] = []
    for x, y in free[:MOST]:
        side: Side = "left" if x < label.dot[0] else "right"
        box = (x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)
        found.append((box, side, LOOSE))
    return found


def _clear(
    middles: Floats, size: tuple[float, float], layout: Layout, pieces: Grounds, taken: Sequence[Taken]
) -> Floats:
    """Those of the middles (n,2) round which a name of a size is free of pieces and of other ground."""
    paper, half = layout.paper, np.array([size[0] / 2, 0.0])
    for share in (0.0, -0.5, 0.5):
        row = middles + np.array([0.0, share * size[1]])
        hit = np.zeros(len(row), dtype=np.bool_)
        for each in taken:
            hit |= each.near(row - half, row + half, AIR)
        middles, row = middles[~hit], row[~hit]
        one, two = ((row + by - [paper.x, paper.y]) / [paper.scale, -paper.scale] for by in (-half, half))
        middles = middles[~pieces.near(one, two, AIR / paper.scale).any(axis=0)]
    return middles


def _corners(box: Box) -> tuple[Point, ...]:
    left, top, right, low = box
    return ((left, top), (right, top), (right, low), (left, low))
