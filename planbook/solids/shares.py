"""Areas of a picture divided by tone, and where two cover each other; it knows nothing of colours."""

from collections.abc import Iterator, Sequence
from contextlib import suppress

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.figures import all_polygons_of, area_of, areas_of, polygons_of, valid
from planbook.solids.visible import Polygon2
from planbook.solids.visible_noded import node_keys, noded

Triangles = NDArray[np.float64]
Numbers = NDArray[np.int64]
EVEN = 1e-4
"""Corners of pictures are on a grid no coarser than this, mm."""
FEW = 12
"""So few lots of triangles are joined one by one."""
AT_ONCE = 500_000
"""So many pairs of a spot and an edge are looked at in one go."""
__all__ = ["all_joined", "bands", "joined_triangles", "left_of", "overlap", "overlaps"]


def bands(
    areas: Sequence[Sequence[Polygon2]], triangles: Triangles, owners: Numbers, levels: Numbers
) -> Iterator[tuple[int, int, tuple[Polygon2, ...]]]:
    """Areas divided by level: for each its number, a level, and where the triangles of that level lie in it.

    `triangles` (n,3,2) with the number of the area (n,) and the level (n,) of each. All are divided in one go.
    """
    order = np.lexsort((levels, owners))
    owners, levels = owners[order], levels[order]
    ends = np.flatnonzero((np.diff(owners, prepend=-1) != 0) | (np.diff(levels, prepend=-1) != 0))
    owner, level = owners[ends], levels[ends]
    many = np.bincount(owner, minlength=len(areas))[owner] > 1
    runs = [run for run, use in zip(np.split(order, ends[1:]), many, strict=True) if use]
    shapes, mine, joined = areas_of(areas), owner[many], all_joined(triangles, runs)
    # What is all in sight needs no cutting.
    hidden = np.bincount(mine, shapely.area(joined), len(areas)) - shapely.area(shapes) > EVEN * shapely.length(shapes)
    cut = hidden[mine]
    joined[cut] = shapely.intersection(shapes[mine[cut]], joined[cut])
    drawn = iter(all_polygons_of(joined))
    for n, step, use in zip(owner.tolist(), level.tolist(), many.tolist(), strict=True):
        polygons = next(drawn) if use else tuple(areas[n])
        if polygons:
            yield n, step, polygons


def overlap(one: Sequence[Polygon2], two: Sequence[Polygon2]) -> tuple[Polygon2, ...]:
    """Where two sets of polygons cover the same ground."""
    return overlaps([one], two)[0]


def overlaps(many: Sequence[Sequence[Polygon2]], one: Sequence[Polygon2]) -> list[tuple[Polygon2, ...]]:
    """Where each of many sets of polygons covers the same ground as one."""
    return all_polygons_of(shapely.intersection(areas_of(many), area_of(one))) if many else []


def left_of(one: Sequence[Polygon2], two: Sequence[Polygon2]) -> tuple[Polygon2, ...]:
    """The ground that one set of polygons covers and another does not."""
    return polygons_of(shapely.difference(area_of(one), area_of(two)))


def joined_triangles(triangles: Triangles) -> tuple[Polygon2, ...]:
    """The area covered by plane triangles (n,3,2), which may overlap."""
    return polygons_of(_joined(triangles))


def _joined(triangles: Triangles) -> shapely.Geometry:
    """The union; triangles that lie side by side, as on most surfaces, are joined the quick way."""
    if not len(triangles):
        return shapely.Polygon()
    return all_joined(triangles, [np.arange(len(triangles))])[0]


def all_joined(triangles: Triangles, runs: Sequence[Numbers]) -> NDArray[np.object_]:
    """The unions of runs of triangles, each given by their numbers."""
    lots = _lots(triangles, runs)
    found, total = _side_by_side(lots), shapely.area(lots)
    whole = np.abs(shapely.area(found) - total) <= 1e-9 * total
    bad = np.flatnonzero(whole & ~shapely.is_valid(found))
    mended = shapely.buffer(found[bad], 0)  # sides that touch themselves
    kept = np.abs(shapely.area(mended) - total[bad]) <= 1e-9 * total[bad]
    found[bad[kept]] = mended[kept]
    for k in bad[~kept].tolist():
        found[k] = shapely.union_all(valid(shapely.get_parts(found[k])))
    for k in np.flatnonzero(~whole).tolist():
        found[k] = _wound(triangles[runs[k]])
    return found


def _wound(triangles: Triangles) -> shapely.Geometry:
    """The union of triangles of which some lie over others or share a part of an edge: all that their rim winds round.

    Edges on which two meet go; what is left is cut where it crosses, and of the cells those with a triangle over them
    are kept.
    """
    starts, ends, wound = _rims(np.rint(triangles / EVEN))
    lines = shapely.linestrings(noded(np.stack([starts, ends], 1), 1.0) * EVEN)
    cells = shapely.get_parts(shapely.polygonize(lines))
    spots = shapely.get_coordinates(shapely.point_on_surface(cells)) / EVEN
    kept = cells[_winding(spots, starts, ends, wound) > 0]
    return shapely.coverage_union_all(kept) if len(kept) else shapely.Polygon()


def _rims(steps: Triangles) -> tuple[Triangles, Triangles, Numbers]:
    """Where the edges of triangles (n,3,2) start and end on which none meet, and how often more to the left of it."""
    one, two = (steps[:, k] - steps[:, 0] for k in (1, 2))
    turn = np.sign(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]).astype(np.int64)
    points, number = np.unique(node_keys(steps), return_inverse=True)
    corner = number.reshape(-1, 3)
    start, end = (each.reshape(-1) for each in (corner, np.roll(corner, -1, axis=1)))
    wound = np.repeat(turn, 3) * np.sign(end - start)
    codes, edge = np.unique(np.minimum(start, end) * len(points) + np.maximum(start, end), return_inverse=True)
    times = np.bincount(edge.reshape(-1), wound, len(codes)).astype(np.int64)
    left = np.flatnonzero(times)
    where = np.zeros((len(points), 2))
    where[corner.reshape(-1)] = steps.reshape(-1, 2)
    start, end = np.divmod(codes[left], len(points))
    return where[start], where[end], times[left]


def _winding(spots: Triangles, starts: Triangles, ends: Triangles, wound: Numbers) -> Numbers:
    """How often more edges wind round each spot (n,2) to the left than to the right."""
    found = np.zeros(len(spots), dtype=np.int64)
    for edges in np.array_split(np.arange(len(starts)), 1 + len(starts) * len(spots) // AT_ONCE):
        (u, v), (x, y) = starts[edges].T, ends[edges].T
        up, down = v <= spots[:, 1:], y <= spots[:, 1:]
        left = (x - u) * (spots[:, 1:] - v) - (y - v) * (spots[:, :1] - u)
        found += ((up & ~down & (left > 0)) * wound[edges]).sum(axis=1)
        found -= ((~up & down & (left < 0)) * wound[edges]).sum(axis=1)
    return found


def _lots(triangles: Triangles, runs: Sequence[Numbers]) -> NDArray[np.object_]:
    """Runs of triangles as they are, one shape each, made in one go."""
    counts = [len(run) for run in runs]
    corners = triangles[np.concatenate(runs)] if runs else triangles[:0]
    closed, count = np.concatenate([corners, corners[:, :1]], axis=1), sum(counts)
    offsets = (np.arange(0, 4 * count + 1, 4), np.arange(count + 1), np.cumsum([0, *counts]))
    found: NDArray[np.object_] = shapely.from_ragged_array(
        shapely.GeometryType.MULTIPOLYGON, closed.reshape(-1, 2), offsets
    )
    return found


def _side_by_side(lots: NDArray[np.object_]) -> NDArray[np.object_]:
    """The union of each of some shapes that share whole edges; nothing where they do not."""
    if len(lots) > FEW:
        with suppress(shapely.errors.GEOSException):  # one that cannot be joined stops all that are asked with it
            found: NDArray[np.object_] = shapely.coverage_union_all(lots.reshape(-1, 1), axis=1)
            return found
    found = np.full(len(lots), shapely.Polygon(), dtype=object)
    for k, lot in enumerate(lots):
        with suppress(shapely.errors.GEOSException):
            found[k] = shapely.coverage_union_all(lot)
    return found
