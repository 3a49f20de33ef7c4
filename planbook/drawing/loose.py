"""Places amid a drawing where a name may stand that would else have its leader over other pieces; draws nothing."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.inset import boxed
from planbook.drawing.names import MARGIN, Box, Label, Layout, Side
from planbook.drawing.surfaces import Floats
from planbook.solids.hatch import Grounds, Taken
from planbook.solids.hatch import taken as ground

Bools = NDArray[np.bool_]

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
    middles = places((wide, tall), (layout.width, layout.height), GRID)
    far = np.hypot(*(middles - label.dot).T)
    middles = middles[np.argsort(far.round(3), kind="stable")]
    middles = middles[np.abs(middles[:, 0] - label.dot[0]) > wide / 2 + AIR]
    runs = [(k.start, k.dot) for k in others if k.side != "on"]
    names, paper = ground([boxed(k.box) for k in others], runs), layout.paper

    def hit(starts: Floats, ends: Floats) -> Bools:
        one, two = ((each - [paper.x, paper.y]) / [paper.scale, -paper.scale] for each in (starts, ends))
        found = names.near(starts, ends, AIR) | signs.near(starts, ends, AIR)
        found[~found] = pieces.near(one[~found], two[~found], AIR / paper.scale)
        return found

    free: list[list[float]] = []
    for start in range(0, len(middles), AT_ONCE):
        free += clear(middles[start : start + AT_ONCE], (wide, tall), hit).tolist()
        if len(free) >= MOST:
            break
    found: list[tuple[Box, Side, float]] = []
    for x, y in free[:MOST]:
        side: Side = "left" if x < label.dot[0] else "right"
        box = (x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)
        found.append((box, side, LOOSE))
    return found


def places(size: tuple[float, float], room: tuple[float, float], step: float) -> Floats:
    """Middles (n,2), every so many mm, at which a name of a size stands within a picture of a width and a height."""
    across, down = (
        np.arange(MARGIN + own / 2, whole - MARGIN - own / 2, step) for own, whole in zip(size, room, strict=True)
    )
    return np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)


def clear(middles: Floats, size: tuple[float, float], hit: Callable[[Floats, Floats], Bools]) -> Floats:
    """Those of the middles (n,2) round which a name of a size has air; `hit` says which of its rows are too near."""
    half = np.array([size[0] / 2, 0.0])
    for share in (0.0, -0.5, 0.5):
        row = middles + np.array([0.0, share * size[1]])
        middles = middles[~hit(row - half, row + half)]
    return middles
