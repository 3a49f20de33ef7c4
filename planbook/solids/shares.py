"""Areas of a picture divided: by tone, among woods, and where two cover each other; it knows nothing of colours."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.figures import POLYGON, Line, all_polygons_of, area_of, areas_of, cut_to, polygons_of, valid
from planbook.solids.visible import Polygon2

Triangles = NDArray[np.float64]
Numbers = NDArray[np.int64]
FINE = 1e-3
"""Corners of parts that touch are put on a grid this fine, mm."""
NONE = 1e-6
"""What is less than this, mm2, is nothing."""
INNER = 0.02
"""A line between two parts of an area stops this short of the area's edge, mm, so as not to run along it."""

__all__ = ["bands", "divided", "joined_triangles", "overlap", "overlaps"]


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
    drawn = iter(all_polygons_of(shapely.intersection(areas_of(areas)[owner[many]], _all_joined(triangles, runs))))
    for n, step, use in zip(owner.tolist(), level.tolist(), many.tolist(), strict=True):
        polygons = next(drawn) if use else tuple(areas[n])
        if polygons:
            yield n, step, polygons


def divided(
    polygons: tuple[Polygon2, ...], parts: Sequence[Sequence[Triangles]], before: Sequence[Sequence[Triangles]] = ()
) -> tuple[tuple[tuple[Polygon2, ...], ...], tuple[Line, ...]]:
    """The polygons divided among a rest and parts, each given as runs of triangles, and the lines between all these.

    Each, the rest first, is also where its runs of `before` lie, and is not where those of others do. The largest (the
    first of equals) gets all of the polygons, as the ground on which the others lie.
    """
    area = area_of(polygons)
    shares = _shares(area, parts, before)
    sizes = [round(float(share.area), 6) for share in shares]
    ground = sizes.index(max(sizes))
    found = tuple(polygons if k == ground else polygons_of(share) for k, share in enumerate(shares))
    others = [share for k, share in enumerate(shares) if k != ground and not share.is_empty]
    if not others:
        return found, ()
    core = shapely.buffer(area, -INNER, join_style="mitre")
    rings = [ring for share in others for ring in shapely.get_rings(shapely.get_parts(share))]
    # Of one part alone no two lines lie on each other.
    edges = (
        shapely.line_merge(shapely.union_all(rings, grid_size=FINE))
        if len(others) > 1
        else shapely.MultiLineString(rings)
    )
    return found, cut_to(core, [tuple(edge.coords) for edge in shapely.get_parts(shapely.normalize(edges))])


def _shares(
    area: shapely.Geometry, parts: Sequence[Sequence[Triangles]], before: Sequence[Sequence[Triangles]]
) -> list[shapely.Geometry]:
    """What the rest has of an area, and what each part; if the rest has most, it may be told to have all."""
    shares = [_share(area, _near(area, runs)) for runs in parts]
    found = [share.area for share in shares]
    left = area.area - sum(found)
    under = any(len(run) for runs in before for run in runs)
    most = left >= max(found, default=0.0) and not under
    rest = area if most else _without(area, shares) if left > NONE else shapely.Polygon()
    shares = [rest, *shares]
    return _behind(shares, [_share(area, _near(area, runs)) for runs in before]) if under else shares


def _without(area: shapely.Geometry, shares: Sequence[shapely.Geometry]) -> shapely.Geometry:
    """What shares leave of an area."""
    parts = shapely.get_parts(shares)
    return shapely.difference(area, shapely.union_all(parts[shapely.get_type_id(parts) == POLYGON]))


def _near(area: shapely.Geometry, runs: Sequence[Triangles]) -> list[Triangles]:
    """The runs whose boxes meet that of an area."""
    left, low, right, high = area.bounds
    return [
        run
        for run in runs
        if len(run)
        and (run[:, :, 0].max() > left and run[:, :, 0].min() < right)
        and (run[:, :, 1].max() > low and run[:, :, 1].min() < high)
    ]


def _behind(shares: Sequence[shapely.Geometry], before: Sequence[shapely.Geometry]) -> list[shapely.Geometry]:
    """Shares of an area without what lies before them, each with its own part of that."""
    taken = shapely.union_all(before, grid_size=FINE)
    left = shapely.difference(np.array(shares, dtype=object), taken, grid_size=FINE)
    return [
        shapely.union_all([mine, own], grid_size=FINE) if not own.is_empty else mine
        for mine, own in zip(left, before, strict=True)
    ]


def _share(area: shapely.Geometry, runs: Sequence[Triangles]) -> shapely.Geometry:
    """Where the runs of triangles lie in an area; runs that touch become one."""
    if not runs:
        return shapely.Polygon()
    return shapely.intersection(area, _joined(runs[0]) if len(runs) == 1 else _united(runs))


def _united(runs: Sequence[Triangles]) -> shapely.Geometry:
    """The union of runs of triangles; most keep apart, so that nothing has to be united."""
    joined = _all_joined(np.concatenate(runs), _in_turn([len(run) for run in runs]))
    one, two = np.triu_indices(len(joined), 1)
    if shapely.intersects(joined[one], joined[two]).any():
        return shapely.union_all(valid(joined), grid_size=FINE)
    parts = shapely.get_parts(joined)
    return shapely.multipolygons(parts[shapely.get_type_id(parts) == POLYGON])


def _sizes(triangles: Triangles) -> Triangles:
    """Areas of plane triangles (n,3,2), mm2."""
    one, two = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    sizes: Triangles = np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2
    return sizes


def _in_turn(lengths: Sequence[int]) -> list[Numbers]:
    """The places of so many things each, one lot after the other."""
    ends = np.cumsum([0, *lengths]).tolist()
    return [np.arange(start, end) for start, end in pairwise(ends)]


def overlap(one: Sequence[Polygon2], two: Sequence[Polygon2]) -> tuple[Polygon2, ...]:
    """Where two sets of polygons cover the same ground."""
    return overlaps([one], two)[0]


def overlaps(many: Sequence[Sequence[Polygon2]], one: Sequence[Polygon2]) -> list[tuple[Polygon2, ...]]:
    """Where each of many sets of polygons covers the same ground as one."""
    return all_polygons_of(shapely.intersection(areas_of(many), area_of(one))) if many else []


def joined_triangles(triangles: Triangles) -> tuple[Polygon2, ...]:
    """The area covered by plane triangles (n,3,2), which may overlap."""
    return polygons_of(_joined(triangles))


def _joined(triangles: Triangles) -> shapely.Geometry:
    """The union; triangles that lie side by side, as on most surfaces, are joined the quick way."""
    if not len(triangles):
        return shapely.Polygon()
    return _all_joined(triangles, [np.arange(len(triangles))])[0]


def _all_joined(triangles: Triangles, runs: Sequence[Numbers]) -> NDArray[np.object_]:
    """The unions of runs of triangles, each given by their numbers."""
    shapes, sizes = shapely.polygons(triangles), _sizes(triangles)
    found = np.array([_side_by_side(shapes[run]) for run in runs], dtype=object)
    total = np.array([sizes[run].sum() for run in runs])
    over = np.abs(shapely.area(found) - total) > 1e-9 * total
    for k in np.flatnonzero(over | ~shapely.is_valid(found)).tolist():
        lot = shapes[runs[k]] if over[k] else shapely.get_parts(found[k])
        found[k] = shapely.union_all(valid(lot), grid_size=1e-4)
    return found


def _side_by_side(shapes: NDArray[np.object_]) -> shapely.Geometry:
    """The union of shapes that share whole edges; nothing where they do not."""
    try:
        return shapely.coverage_union_all(shapes)
    except shapely.errors.GEOSException:
        return shapely.Polygon()
