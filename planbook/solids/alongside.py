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


@dataclass(frozen=True, eq=False, slots=True)
class Lines:
    """Lines of at least two points, made ready to be asked; `long` (n,) is the length of each, mm."""

    shapes: NDArray[np.object_]
    long: Floats
    tree: shapely.STRtree

    def beside(self, near: float) -> Beside:
        """Where lines lie beside others, no further than `near` mm."""
        points = shapely.line_interpolate_point(self.shapes[:, None], np.array(PLACES), normalized=True).ravel()
        spot, other = self.tree.query(points, predicate="dwithin", distance=near)
        apart = other != spot // len(PLACES)
        spot, other = spot[apart], other[apart]
        foot = shapely.line_locate_point(self.shapes[other], points[spot])
        level = shapely.is_closed(self.shapes)[other] | ((foot > END) & (foot < self.long[other] - END))
        spot, other = spot[level], other[level]
        far: Floats = shapely.distance(points[spot], self.shapes[other])
        return Beside(spot // len(PLACES), spot % len(PLACES), other, far)

    def loose(self, asked: Ints, near: float) -> NDArray[np.bool_]:
        """Which of the lines that are asked for end in the air: no other line comes within `near` mm of an end."""
        ends = np.stack([shapely.get_point(self.shapes[asked], 0), shapely.get_point(self.shapes[asked], -1)], 1)
        end, other = self.tree.query(ends.ravel(), predicate="dwithin", distance=near)
        free = np.ones(len(asked), dtype=np.bool_)
        free[end[other != asked[end // 2]] // 2] = False
        return free


def lines_at(lines: Sequence[Line]) -> Lines:
    """Those lines, made ready."""
    shapes = lines_of(lines)
    return Lines(shapes, shapely.length(shapes), shapely.STRtree(shapes))
