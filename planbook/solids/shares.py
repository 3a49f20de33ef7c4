"""Areas of a picture divided by tone, and where two cover each other; it knows nothing of colours."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.extents import extents
from planbook.solids.figures import all_polygons_of, area_of, areas_of, polygons_of, valid
from planbook.solids.triangles import overlapping
from planbook.solids.visible import Polygon2

Triangles = NDArray[np.float64]
Numbers = NDArray[np.int64]
EVEN = 1e-4
"""Corners of pictures are on a grid no coarser than this, mm."""
FEW = 50
"""So few triangles are joined in the slow way at once."""
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
        found[k] = _mostly_side_by_side(shapely.get_parts(lots[k]), triangles[runs[k]])
    return found


def _mostly_side_by_side(drawn: NDArray[np.object_], triangles: Triangles) -> shapely.Geometry:
    """The union of triangles of which some lie over others; as these are few, only they are joined the slow way."""
    if len(drawn) <= FEW:
        return shapely.union_all(valid(drawn))
    over = _over_earlier(triangles)
    joined = _wholly_side_by_side(drawn[~over]) if over.any() else None
    return shapely.union_all(_in_parts(drawn) if joined is None else valid(np.array([joined, *drawn[over]])))


def _wholly_side_by_side(drawn: NDArray[np.object_]) -> shapely.Geometry | None:
    """The union of triangles that share whole edges; None if they do not."""
    [joined], total = _side_by_side(np.array([shapely.multipolygons(drawn)])), shapely.area(drawn).sum()
    return joined if abs(joined.area - total) <= 1e-9 * total and joined.is_valid else None


def _in_parts(drawn: NDArray[np.object_]) -> NDArray[np.object_]:
    """Triangles of which some share only a part of an edge, joined as far as that goes quickly."""
    if len(drawn) <= FEW:
        return valid(drawn)
    joined = _wholly_side_by_side(drawn)
    return (
        np.array([joined]) if joined is not None else np.concatenate([_in_parts(h) for h in np.array_split(drawn, 2)])
    )


def _over_earlier(triangles: Triangles) -> NDArray[np.bool_]:
    """Which plane triangles (n,3,2), all turned alike, overlap an earlier one."""
    boxes = extents(triangles)
    one, two = shapely.STRtree(boxes).query(boxes)
    one, two = one[one < two], two[one < two]
    meet = overlapping(triangles[one], triangles[two])  # corners that they share give just 0
    found = np.zeros(len(triangles), dtype=np.bool_)
    found[two[meet]] = True
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
    try:
        found: NDArray[np.object_] = shapely.coverage_union_all(lots.reshape(-1, 1), axis=1)
    except shapely.errors.GEOSException:
        alone = len(lots) == 1
        found = np.array([shapely.Polygon()] if alone else [_side_by_side(lot)[0] for lot in lots[:, None]])
    return found
