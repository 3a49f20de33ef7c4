"""Which lines of a drawing run beside which others; it knows nothing of pens."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.figures import Line, lines_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PLACES = (0.1, 0.3, 0.5, 0.7, 0.9)
"""Lines are looked at in these places, as shares of their length."""
END = 0.02
"""What is nearest to the end of a line, to so many mm, lies before or behind it, not beside it."""


@dataclass(frozen=True, eq=False, slots=True)
class Beside:
    """Places of lines that lie beside another line: number of the line, of its place and of the other; mm between."""

    line: Ints
    place: Ints
    other: Ints
    far: Floats

    def along(self, picked: NDArray[np.bool_], count: int, but: int = 0) -> NDArray[np.bool_]:
        """Which of so many lines have one of those `picked` beside each of their places, or all `but` so many."""
        seen = np.zeros((count, len(PLACES)), dtype=np.bool_)
        seen[self.line[picked], self.place[picked]] = True
        enough: NDArray[np.bool_] = seen.sum(axis=1) >= len(PLACES) - but
        return enough


def beside(lines: Sequence[Line], near: float) -> Beside:
    """Where lines of at least two points lie beside others, no further than `near` mm."""
    shapes = lines_of(lines)
    points = shapely.line_interpolate_point(shapes[:, None], np.array(PLACES), normalized=True).ravel()
    spot, other = shapely.STRtree(shapes).query(points, predicate="dwithin", distance=near)
    apart = other != spot // len(PLACES)
    spot, other = spot[apart], other[apart]
    ends, foot = shapely.length(shapes)[other], shapely.line_locate_point(shapes[other], points[spot])
    closed = shapely.is_closed(shapes)[other]
    level = closed | ((foot > END) & (foot < ends - END))
    spot, other = spot[level], other[level]
    far: Floats = shapely.distance(points[spot], shapes[other])
    return Beside(spot // len(PLACES), spot % len(PLACES), other, far)


def loose(lines: Sequence[Line], near: float) -> NDArray[np.bool_]:
    """Which lines end in the air at both ends: no other line comes within `near` mm of either."""
    shapes = lines_of(lines)
    ends = np.stack([shapely.get_point(shapes, 0), shapely.get_point(shapes, -1)], 1).ravel()
    end, other = shapely.STRtree(shapes).query(ends, predicate="dwithin", distance=near)
    held = np.zeros(len(shapes), dtype=np.bool_)
    held[end[other != end // 2] // 2] = True
    return ~held
