"""Areas of a picture divided among parts that triangles tell of, and the lines between the parts; it knows no woods."""

from collections.abc import Iterator, Mapping, Sequence
from functools import reduce
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.columns import every, least, most, some
from planbook.solids.figures import POLYGON, Line, all_polygons_of, areas_of, cut_to, valid
from planbook.solids.shares import Numbers, Triangles, all_joined
from planbook.solids.visible import Polygon2
from planbook.solids.visible_chain import polylines

FINE = 1e-3
"""Corners of parts that touch are put on a grid this fine, mm."""
NONE = 1e-3
"""What is left along all the edge of an area no wider than this, mm, is nothing."""
INNER = 0.02
"""A line between two parts of an area stops this short of the area's edge, mm, so as not to run along it."""

_EMPTY = shapely.Polygon()


class Parts(NamedTuple):
    """Plane triangles (n,3,2), and of each the number of its area, of its part (above 0) and of its run.

    Those of a run lie side by side. What is `over` (1) goes before what others tell (0), and what is higher before it.
    """

    triangles: Triangles
    area: Numbers
    part: Numbers
    run: Numbers
    over: Numbers

    @classmethod
    def none(cls) -> "Parts":
        """No triangles at all."""
        area, part, run, over = (np.zeros(0, dtype=np.int64) for _ in range(4))
        return cls(np.zeros((0, 3, 2)), area, part, run, over)


Shares = list[tuple[int, tuple[Polygon2, ...]]]
"""Parts by number, the largest first, which gets all of the area as the ground on which the others lie."""


class _Cells(NamedTuple):
    """What one part has of one area, by what lies over others or by the rest: area, part, over and shape (n,)."""

    area: Numbers
    part: Numbers
    over: Numbers
    shape: NDArray[np.object_]

    def between(self, start: int, end: int) -> "_Cells":
        """Some that follow each other."""
        return _Cells(self.area[start:end], self.part[start:end], self.over[start:end], self.shape[start:end])


def divided(areas: Sequence[Sequence[Polygon2]], parts: Parts) -> Iterator[tuple[int, Shares, tuple[Line, ...]]]:
    """Of each area that has parts its number, shares and the lines between them; part 0 is what the others leave."""
    if not len(parts.triangles):
        return
    numbers, place = np.unique(parts.area, return_inverse=True)
    shapes = areas_of([areas[n] for n in numbers.tolist()])
    cells = _cells(shapes, parts._replace(area=place.reshape(-1)))
    ends = np.searchsorted(cells.area, np.arange(len(shapes) + 1)).tolist()
    shares = [
        _largest_first(_shares(shape, cells.between(start, end)))
        for shape, (start, end) in zip(shapes, pairwise(ends), strict=True)
    ]
    lying = all_polygons_of(np.array([shape for each in shares for _, shape in each[1:]], dtype=object))
    polygons = iter(lying)
    for n, each, shape in zip(numbers.tolist(), shares, shapes, strict=True):
        others = [(part, next(polygons)) for part, _ in each[1:]]
        yield n, [(each[0][0], tuple(areas[n])), *((part, p) for part, p in others if p)], _between(shape, each[1:])


def _cells(shapes: NDArray[np.object_], parts: Parts) -> _Cells:
    """What each part has of each area; runs that touch become one."""
    order = np.lexsort((parts.run, parts.over, parts.part, parts.area))
    lot = np.stack([parts.area, parts.part, parts.over, parts.run], 1)[order]
    starts = _starts(lot)
    corners = parts.triangles[order]
    low, high = np.minimum.reduceat(least(corners), starts), np.maximum.reduceat(most(corners), starts)
    bounds = shapely.bounds(shapes)[lot[starts, 0]]
    near = every((high > bounds[:, :2]) & (low < bounds[:, 2:]))
    runs = [run for run, use in zip(np.split(order, starts[1:]), near.tolist(), strict=True) if use]
    lot = lot[starts[near], :3]
    if not runs:
        return _Cells(lot[:, 0], lot[:, 1], lot[:, 2], np.zeros(0, dtype=object))
    joined, starts = all_joined(parts.triangles, runs), _starts(lot)
    whole = [_together(joined[start:end]) for start, end in pairwise([*starts.tolist(), len(lot)])]
    area, part, over = lot[starts].T
    return _Cells(area, part, over, shapely.intersection(shapes[area], whole))


def _starts(rows: Numbers) -> Numbers:
    """Where rows that are like each other begin."""
    new = np.ones(len(rows), dtype=np.bool_)
    new[1:] = some(rows[1:] != rows[:-1])
    return np.flatnonzero(new)


def _together(runs: NDArray[np.object_]) -> shapely.Geometry:
    """The union of runs; most keep apart, so that nothing has to be united."""
    if len(runs) == 1:
        return runs[0]
    one, two = np.triu_indices(len(runs), 1)
    if shapely.intersects(runs[one], runs[two]).any():
        return shapely.union_all(valid(runs), grid_size=FINE)
    return shapely.multipolygons(_polygons(runs))


def _shares(area: shapely.Geometry, cells: _Cells) -> dict[int, shapely.Geometry]:
    """What each part has of an area, 0 what the others leave; if that is most, it may be told to have all."""
    told = list(zip(cells.part.tolist(), cells.over.tolist(), cells.shape, strict=True))
    under = {part: cell for part, over, cell in told if not over}
    levels = sorted({over for _, over, _ in told if over})
    before = [{part: cell for part, over, cell in told if over == level} for level in levels]
    found = [cell.area for cell in under.values()]
    left = area.area - sum(found)
    if not before and left >= max(found, default=0.0):
        return {0: area, **under}
    rest = (
        shapely.difference(area, shapely.union_all(_polygons([*under.values()])))
        if left > NONE * area.length
        else _EMPTY
    )
    return reduce(_behind, before, {0: rest, **under})


def _behind(shares: dict[int, shapely.Geometry], before: Mapping[int, shapely.Geometry]) -> dict[int, shapely.Geometry]:
    """Shares of an area without what lies before them, each with its own part of that."""
    taken = shapely.union_all([*before.values()], grid_size=FINE)
    left = {part: shapely.difference(share, taken, grid_size=FINE) for part, share in shares.items()}
    for part, own in before.items():
        left[part] = shapely.union_all([left.get(part, _EMPTY), own], grid_size=FINE)
    return left


def _largest_first(shares: Mapping[int, shapely.Geometry]) -> list[tuple[int, shapely.Geometry]]:
    """The shares in order, the largest (the first of equals) before the others, of which none is empty."""
    ground = max(shares, key=lambda part: (round(float(shares[part].area), 6), -part))
    others = [(part, share) for part, share in sorted(shares.items()) if part != ground and not share.is_empty]
    return [(ground, shares[ground]), *others]


def _between(area: shapely.Geometry, others: Sequence[tuple[int, shapely.Geometry]]) -> tuple[Line, ...]:
    """The lines that part others from the ground of an area and from each other."""
    # On the grid a slit closes, which triangles that share only a part of an edge leave within a part.
    shares = shapely.set_precision(np.array([share for _, share in others], dtype=object), FINE)
    rings = shapely.get_rings(shapely.get_parts(shares))
    if not len(rings):
        return ()
    # Of one part alone no two lines lie on each other.
    edges = (
        shapely.line_merge(shapely.union_all(rings, grid_size=FINE))
        if len(others) > 1
        else shapely.multilinestrings(rings)
    )
    core = shapely.buffer(area, -INNER, join_style="mitre")
    return cut_to(core, polylines(shapely.get_parts(shapely.normalize(edges))))


def _polygons(shapes: Sequence[shapely.Geometry] | NDArray[np.object_]) -> NDArray[np.object_]:
    """The polygons of which shapes consist."""
    parts = shapely.get_parts(shapes)
    found: NDArray[np.object_] = parts[shapely.get_type_id(parts) == POLYGON]
    return found
