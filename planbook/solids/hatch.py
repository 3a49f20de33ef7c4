"""Small plane jobs of pictures: lines cut to areas, shading bands, places for a dot; it knows nothing of pens."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2
from planbook.solids.visible_chain import polylines

Line = tuple[Point2, ...]
Triangles = NDArray[np.float64]
Numbers = NDArray[np.int64]
LINE, POLYGON = 1, 3
"""What the geometry library calls them."""
FINE = 1e-3
"""Corners of parts that touch are put on a grid this fine, mm."""
INNER = 0.02
"""A line between two parts of an area stops this short of the area's edge, mm, so as not to run along it."""

__all__ = [
    "Line",
    "bands",
    "clearances",
    "clip_lines",
    "divided",
    "hatching",
    "inside",
    "joined_triangles",
    "overlap",
    "roomy_point",
    "thinned",
]


def hatching(polygons: Sequence[Polygon2], spacing: float, degrees: float = 45.0) -> tuple[Line, ...]:
    """Parallel lines `spacing` apart over the polygons, cut to them; one set of lines for all of the plane."""
    area = _area(polygons)
    if area.is_empty or spacing <= 0:
        return ()
    turn = math.radians(degrees)
    along, across = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    left, bottom, right, top = area.bounds
    corners = [(u, v) for u in (left, right) for v in (bottom, top)]
    ts = [u * along[0] + v * along[1] for u, v in corners]
    ns = [u * across[0] + v * across[1] for u, v in corners]
    lines = []
    for k in range(math.ceil(min(ns) / spacing), math.floor(max(ns) / spacing) + 1):
        n = k * spacing
        ends = [(t * along[0] + n * across[0], t * along[1] + n * across[1]) for t in (min(ts), max(ts))]
        lines.append((ends[0], ends[1]))
    return _cut(area, lines)


def clip_lines(polygons: Sequence[Polygon2], lines: Iterable[Line]) -> tuple[Line, ...]:
    """The stretches of the lines that lie in the polygons, in the order of the lines."""
    return _cut(_area(polygons), list(lines))


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
    drawn = iter(_polygons_of(shapely.intersection(_areas(areas)[owner[many]], _all_joined(triangles, runs))))
    for n, step, use in zip(owner.tolist(), level.tolist(), many.tolist(), strict=True):
        polygons = next(drawn) if use else tuple(areas[n])
        if polygons:
            yield n, step, polygons


def divided(
    polygons: tuple[Polygon2, ...], parts: Sequence[Sequence[Triangles]], before: Sequence[Sequence[Triangles]] = ()
) -> tuple[tuple[tuple[Polygon2, ...], ...], tuple[Line, ...]]:
    """The polygons divided among parts, each given as runs of triangles, and the lines between the parts.

    A part is also where its runs of `before` lie, and is not where those of others do. The largest part (the first of
    equals) gets all of the polygons, as the ground on which the others lie.
    """
    area = _area(polygons)
    shares = _shares(area, parts, before)
    sizes = [round(float(share.area), 6) for share in shares]
    ground = sizes.index(max(sizes))
    core = shapely.buffer(area, -INNER, join_style="mitre")
    others = [share for k, share in enumerate(shares) if k != ground and not share.is_empty]
    rings = [ring for share in others for ring in shapely.get_rings(shapely.get_parts(share))]
    # Of one part alone no two lines lie on each other.
    edges = (
        shapely.line_merge(shapely.union_all(rings, grid_size=FINE))
        if len(others) > 1
        else shapely.MultiLineString(rings)
    )
    found = tuple(polygons if k == ground else _polygons(share) for k, share in enumerate(shares))
    return found, _cut(core, [tuple(edge.coords) for edge in shapely.get_parts(shapely.normalize(edges))])


def _shares(
    area: shapely.Geometry, parts: Sequence[Sequence[Triangles]], before: Sequence[Sequence[Triangles]]
) -> list[shapely.Geometry]:
    """What each part has of an area. What is surely the ground need not be cut: all that the others leave."""
    near = [_near(area, runs) for runs in parts]
    if any(len(run) for runs in before for run in runs):
        return _behind([_share(area, runs) for runs in near], [_share(area, _near(area, runs)) for runs in before])
    sizes = [sum(float(shapely.area(shapely.polygons(run)).sum()) for run in runs) for runs in near]
    largest = sizes.index(max(sizes))
    shares = [shapely.Polygon() if k == largest else _share(area, runs) for k, runs in enumerate(near)]
    found = [share.area for share in shares]
    left = area.area - sum(found)
    shares[largest] = _share(area, near[largest]) if left < max(found) else area
    return shares


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
        return shapely.union_all(_valid(joined), grid_size=FINE)
    parts = shapely.get_parts(joined)
    return shapely.multipolygons(parts[shapely.get_type_id(parts) == POLYGON])


def _in_turn(lengths: Sequence[int]) -> list[Numbers]:
    """The places of so many things each, one lot after the other."""
    ends = np.cumsum([0, *lengths]).tolist()
    return [np.arange(start, end) for start, end in pairwise(ends)]


def overlap(one: Sequence[Polygon2], two: Sequence[Polygon2]) -> tuple[Polygon2, ...]:
    """Where two sets of polygons cover the same ground."""
    return _polygons(shapely.intersection(_area(one), _area(two)))


def joined_triangles(triangles: Triangles) -> tuple[Polygon2, ...]:
    """The area covered by plane triangles (n,3,2), which may overlap."""
    return _polygons(_joined(triangles))


def _joined(triangles: Triangles) -> shapely.Geometry:
    """The union; triangles that lie side by side, as on most surfaces, are joined the quick way."""
    if not len(triangles):
        return shapely.Polygon()
    return _all_joined(triangles, [np.arange(len(triangles))])[0]


def _all_joined(triangles: Triangles, runs: Sequence[Numbers]) -> NDArray[np.object_]:
    """The unions of runs of triangles, each given by their numbers."""
    shapes = shapely.polygons(triangles)
    sizes = shapely.area(shapes)
    found = np.array([_side_by_side(shapes[run]) for run in runs], dtype=object)
    total = np.array([sizes[run].sum() for run in runs])
    over = np.abs(shapely.area(found) - total) > 1e-9 * total
    for k in np.flatnonzero(over | ~shapely.is_valid(found)).tolist():
        lot = shapes[runs[k]] if over[k] else shapely.get_parts(found[k])
        found[k] = shapely.union_all(_valid(lot), grid_size=1e-4)
    return found


def _side_by_side(shapes: NDArray[np.object_]) -> shapely.Geometry:
    """The union of shapes that share whole edges; nothing where they do not."""
    try:
        return shapely.coverage_union_all(shapes)
    except shapely.errors.GEOSException:
        return shapely.Polygon()


def inside(polygons: Sequence[Polygon2], points: Sequence[Point2]) -> tuple[bool, ...]:
    """Which of the points lie in the polygons."""
    area = _area(polygons)
    shapely.prepare(area)
    return tuple(bool(hit) for hit in shapely.contains(area, shapely.points(np.asarray(points).reshape(-1, 2))))


def clearances(polygons: Sequence[Polygon2], lines: Sequence[Line], points: Sequence[Point2]) -> tuple[float, ...]:
    """How far each point is from the nearest polygon or line, mm; 0 inside a polygon, infinite where there is none."""
    shapes = [shapely.Polygon(outer, holes) for outer, holes in polygons if len(outer) > 2]
    shapes += [shapely.LineString(line) for line in lines if len(line) > 1]
    if not shapes or not points:
        return (math.inf,) * len(points)
    tree = shapely.STRtree(shapes)
    (where, _), far = tree.query_nearest(shapely.points(np.asarray(points)), return_distance=True, all_matches=False)
    return tuple(far[np.argsort(where, kind="stable")].tolist())


def roomy_point(polygons: Sequence[Polygon2], room: float, toward: Point2 | None = None) -> tuple[Point2, float]:
    """A point inside the polygons and its distance from their edge, mm.

    Without `toward` it is the place with the most room (to a twentieth of the size). With it, the point nearest to
    `toward` among those that keep `room` from the edge, or six tenths of the most room where there is less.
    """
    area = _area(polygons)
    if area.is_empty:
        return (0.0, 0.0), 0.0
    part = max(shapely.get_parts(area), key=lambda p: (round(p.area, 6), tuple(round(b, 6) for b in p.bounds)))
    size = max(part.bounds[2] - part.bounds[0], part.bounds[3] - part.bounds[1])
    circle = shapely.maximum_inscribed_circle(part, tolerance=max(size / 20, 1e-6))
    most = float(circle.length)
    middle = shapely.get_coordinates(circle)[0]
    if toward is None:
        return (float(middle[0]), float(middle[1])), most
    keep = min(room, 0.6 * most)
    core = shapely.buffer(part, -keep, join_style="mitre")
    if core.is_empty:
        return (float(middle[0]), float(middle[1])), most
    near = shapely.get_coordinates(shapely.shortest_line(core, shapely.Point(toward)))[0]
    return (float(near[0]), float(near[1])), keep


def thinned(lines: Sequence[Line], tolerance: float, put: Callable[[Triangles], Triangles] | None = None) -> list[Line]:
    """The lines without points that lie closer than `tolerance` to the line without them; their ends stay.

    `put` says first where points (n,2) go.
    """
    long = [k for k, line in enumerate(lines) if len(line) > 1]
    drawn = _lines([lines[k] for k in long])
    if put is not None:
        drawn = shapely.set_coordinates(drawn, put(shapely.get_coordinates(drawn)))
    found: list[Line] = [()] * len(lines)
    for k, line in zip(long, polylines(shapely.simplify(drawn, tolerance, preserve_topology=False)), strict=True):
        found[k] = line
    return found


def _area(polygons: Sequence[Polygon2]) -> shapely.Geometry:
    """The area of polygons; those that only lie side by side need no union."""
    return _areas([polygons])[0]


def _areas(areas: Sequence[Sequence[Polygon2]]) -> NDArray[np.object_]:
    """The same for several, made in one go."""
    shapes = [(k, (outer, *holes)) for k, polygons in enumerate(areas) for outer, holes in polygons if len(outer) > 2]
    if not shapes:
        return np.array([shapely.Polygon()] * len(areas), dtype=object)
    rings = _lines([ring for _, shape in shapes for ring in shape], shapely.linearrings)
    drawn = shapely.polygons(rings, indices=np.repeat(np.arange(len(shapes)), [len(shape) for _, shape in shapes]))
    ends = np.searchsorted([k for k, _ in shapes], np.arange(len(areas) + 1)).tolist()
    lots = [drawn[start:end] for start, end in pairwise(ends)]
    found = np.array([lot[0] if len(lot) == 1 else shapely.multipolygons(lot) for lot in lots], dtype=object)
    for k in np.flatnonzero(~shapely.is_valid(found)).tolist():
        found[k] = shapely.union_all(_valid(lots[k]))
    return found


def _lines(
    lines: Sequence[Line], make: Callable[..., NDArray[np.object_]] = shapely.linestrings
) -> NDArray[np.object_]:
    """Lines as geometries, made in one go."""
    points = np.array([point for line in lines for point in line], dtype=np.float64).reshape(-1, 2)
    return make(points, indices=np.repeat(np.arange(len(lines)), [len(line) for line in lines]))


def _valid(shapes: NDArray[np.object_]) -> NDArray[np.object_]:
    good = shapely.is_valid(shapes)
    fixed: NDArray[np.object_] = np.where(good, shapes, shapely.buffer(shapes, 0)) if not good.all() else shapes
    return fixed


def _cut(area: shapely.Geometry, lines: Sequence[Line]) -> tuple[Line, ...]:
    drawn = [line for line in lines if len(line) > 1]
    if not drawn or area.is_empty:
        return ()
    shapely.prepare(area)
    parts = shapely.get_parts(shapely.get_parts(shapely.intersection(_lines(drawn), area)))
    runs = parts[(shapely.get_type_id(parts) == LINE) & (shapely.length(parts) > 1e-6)]
    return tuple(polylines(runs))


def _polygons(shape: shapely.Geometry) -> tuple[Polygon2, ...]:
    return _polygons_of(np.array([shape], dtype=object))[0]


def _polygons_of(shapes: NDArray[np.object_]) -> list[tuple[Polygon2, ...]]:
    """The polygons of each shape, in a fixed order."""
    parts, shape = shapely.get_parts(shapely.normalize(shapes), return_index=True)
    real = (shapely.get_type_id(parts) == POLYGON) & (shapely.area(parts) >= 1e-9)
    parts, shape = parts[real], shape[real]
    rings, owner = shapely.get_rings(parts, return_index=True)
    lines = [points[-2::-1] for points in polylines(rings)]
    ends = np.searchsorted(owner, np.arange(len(parts) + 1)).tolist()
    polygons = [(lines[start], tuple(lines[start + 1 : end])) for start, end in pairwise(ends)]
    ends = np.searchsorted(shape, np.arange(len(shapes) + 1)).tolist()
    return [tuple(polygons[start:end]) for start, end in pairwise(ends)]
