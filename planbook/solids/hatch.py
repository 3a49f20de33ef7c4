"""Small plane jobs of pictures: lines cut to areas, shading bands, places for a dot; it knows nothing of pens."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2
from planbook.solids.visible_chain import polylines

Line = tuple[Point2, ...]
Triangles = NDArray[np.float64]
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
    polygons: Sequence[Polygon2], triangles: Triangles, levels: NDArray[np.int64]
) -> Mapping[int, tuple[Polygon2, ...]]:
    """The polygons divided by level: where the triangles (n,3,2) of each level (n,) lie in them."""
    found: dict[int, tuple[Polygon2, ...]] = {}
    present = np.unique(levels).tolist()
    if len(present) == 1:
        return {present[0]: tuple(polygons)}
    area = _area(polygons)
    for level in present:
        polygon = _polygons(shapely.intersection(area, _joined(triangles[levels == level])))
        if polygon:
            found[level] = polygon
    return found


def divided(
    polygons: tuple[Polygon2, ...], parts: Sequence[Sequence[Triangles]], before: Sequence[Sequence[Triangles]] = ()
) -> tuple[tuple[tuple[Polygon2, ...], ...], tuple[Line, ...]]:
    """The polygons divided among parts, each given as runs of triangles, and the lines between the parts.

    A part is also where its runs of `before` lie, and is not where those of others do. The largest part (the first of
    equals) gets all of the polygons, as the ground on which the others lie.
    """
    area = _area(polygons)
    shares = [_share(area, runs) for runs in parts]
    if any(len(run) for runs in before for run in runs):
        shares = _behind(shares, [_share(area, runs) for runs in before])
    sizes = [round(float(share.area), 6) for share in shares]
    ground = sizes.index(max(sizes))
    core = shapely.buffer(area, -INNER, join_style="mitre")
    others = [share for k, share in enumerate(shares) if k != ground and not share.is_empty]
    rings = [ring for share in others for ring in shapely.get_rings(shapely.get_parts(share))]
    edges = shapely.line_merge(shapely.union_all(rings, grid_size=FINE)) if rings else shapely.LineString()
    found = tuple(polygons if k == ground else _polygons(share) for k, share in enumerate(shares))
    return found, _cut(core, [tuple(edge.coords) for edge in shapely.get_parts(shapely.normalize(edges))])


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
    found = [_joined(run) for run in runs if len(run)]
    if not found:
        return shapely.Polygon()
    whole = found[0] if len(found) == 1 else shapely.union_all(_valid(np.array(found, dtype=object)), grid_size=FINE)
    return shapely.intersection(area, whole)


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
    shapes = shapely.polygons(triangles)
    total = float(shapely.area(shapes).sum())
    try:
        quick = shapely.coverage_union_all(shapes)
    except shapely.errors.GEOSException:  # triangles that do not share whole edges
        return shapely.union_all(_valid(shapes), grid_size=1e-4)
    if abs(quick.area - total) > 1e-9 * total:
        return shapely.union_all(_valid(shapes), grid_size=1e-4)
    return quick if quick.is_valid else shapely.union_all(_valid(shapely.get_parts(quick)), grid_size=1e-4)


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


def thinned(lines: Sequence[Line], tolerance: float) -> list[Line]:
    """The lines without points that lie closer than `tolerance` to the line without them; their ends stay."""
    long = [k for k, line in enumerate(lines) if len(line) > 2]
    drawn = _lines([lines[k] for k in long])
    found = list(lines)
    for k, line in zip(long, polylines(shapely.simplify(drawn, tolerance, preserve_topology=False)), strict=True):
        found[k] = line
    return found


def _area(polygons: Sequence[Polygon2]) -> shapely.Geometry:
    """The area of polygons; those that only lie side by side need no union."""
    shapes = [(outer, *holes) for outer, holes in polygons if len(outer) > 2]
    if not shapes:
        return shapely.Polygon()
    rings = _lines([ring for shape in shapes for ring in shape], shapely.linearrings)
    found = shapely.polygons(rings, indices=np.repeat(np.arange(len(shapes)), [len(shape) for shape in shapes]))
    whole = found[0] if len(found) == 1 else shapely.multipolygons(found)
    return whole if shapely.is_valid(whole) else shapely.union_all(_valid(found))


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
    parts = shapely.get_parts(shapely.normalize(shape))
    parts = parts[(shapely.get_type_id(parts) == POLYGON) & (shapely.area(parts) >= 1e-9)]
    rings, owner = shapely.get_rings(parts, return_index=True)
    lines = [points[-2::-1] for points in polylines(rings)]
    ends = np.searchsorted(owner, np.arange(len(parts) + 1)).tolist()
    return tuple((lines[start], tuple(lines[start + 1 : end])) for start, end in pairwise(ends))
