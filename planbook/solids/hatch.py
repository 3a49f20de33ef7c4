"""Small plane jobs of pictures: lines cut to areas, lines thinned, places for a dot; it knows nothing of pens."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.figures import Line, area_of, areas_of, cut_to, each_of, lines_of, polygons_of, runs_in
from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2
from planbook.solids.visible_chain import polylines

Floats = NDArray[np.float64]
ROUNDS = 3
"""So often one of the things that may be near is asked of each stretch, before all others are."""
FEW = 16
"""So few pairs are not worth it."""
_CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))

__all__ = [
    "Grounds",
    "Line",
    "away",
    "bounds_of",
    "clearances",
    "clip_each",
    "clip_lines",
    "grounds",
    "hatching",
    "held",
    "holders",
    "holding",
    "inside",
    "off_edges",
    "owners",
    "roomy_point",
    "roomy_points",
    "taken",
    "thinned",
    "united",
    "within",
]


def hatching(polygons: Sequence[Polygon2], spacing: float, degrees: float = 45.0) -> tuple[Line, ...]:
    """Parallel lines `spacing` apart over the polygons, cut to them; one set of lines for all of the plane."""
    area = area_of(polygons)
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
    return cut_to(area, lines)


def clip_lines(polygons: Sequence[Polygon2], lines: Iterable[Line]) -> tuple[Line, ...]:
    """The stretches of the lines that lie in the polygons, in the order of the lines."""
    return cut_to(area_of(polygons), list(lines))


def clip_each(polygons: Sequence[Polygon2], lines: Iterable[Line]) -> Iterator[tuple[int, Line]]:
    """The same, each stretch with the number of its line."""
    return runs_in(area_of(polygons), list(lines))


def united(polygons: Sequence[Polygon2]) -> tuple[Polygon2, ...]:
    """Polygons of which some may lie over others, as one area."""
    area = area_of(polygons)
    return polygons_of(shapely.intersection(area, area))


def inside(polygons: Sequence[Polygon2], points: Sequence[Point2]) -> tuple[bool, ...]:
    """Which of the points lie in the polygons."""
    shapes = each_of(polygons)
    shapely.prepare(shapes)
    return tuple(shapely.intersects_xy(shapes[:, None], *np.asarray(points).reshape(-1, 2).T).any(axis=0).tolist())


def holders(areas: Sequence[Sequence[Polygon2]]) -> NDArray[np.object_]:
    """Areas made ready to be asked which of them hold what."""
    shapes = areas_of(areas)
    shapely.prepare(shapes)
    return shapes


def holding(shapes: NDArray[np.object_], rings: Floats) -> NDArray[np.bool_]:
    """Which of the areas, as `holders` makes them, hold which of some rings (n,m,2) wholly: (areas, n)."""
    found: NDArray[np.bool_] = shapely.covers(shapes[:, None], shapely.polygons(rings))
    return found


def owners(areas: Sequence[Sequence[Polygon2]], points: Sequence[Point2]) -> tuple[int, ...]:
    """The number of the area in which each point lies, the first of several; -1 for bare ground."""
    numbers = np.array([k for k, polygons in enumerate(areas) for outer, _ in polygons if len(outer) > 2], dtype=int)
    tree = shapely.STRtree(each_of([polygon for polygons in areas for polygon in polygons]))
    where, shapes = tree.query(shapely.points(np.asarray(points).reshape(-1, 2)), predicate="intersects")
    found = np.full(len(points), len(areas))
    np.minimum.at(found, where, numbers[shapes])
    return tuple(np.where(found < len(areas), found, -1).tolist())


def within(polygons: Sequence[Polygon2], points: Floats) -> NDArray[np.bool_]:
    """The same of points (n,2), for polygons of which none lies over another."""
    found: NDArray[np.bool_] = grounds([polygons]).hold(points)[0]
    return found


@dataclass(frozen=True, eq=False, slots=True)
class Grounds:
    """Areas, each of polygons of which none lies over another, of which is asked more than once what lies in them.

    `shapes` are the areas; `tree` holds their polygons, each `owner` being the number of its area.
    """

    shapes: NDArray[np.object_]
    tree: shapely.STRtree
    owner: NDArray[np.int64]

    def hold(self, points: Floats) -> NDArray[np.bool_]:
        """Which area holds which of the points (n,2): (areas, n)."""
        left, low, right, high = (side[:, None] for side in shapely.bounds(self.shapes).T)
        u, v = points.T
        found: NDArray[np.bool_] = (left <= u) & (u <= right) & (low <= v) & (v <= high)
        area, point = np.nonzero(found)
        found[area, point] = shapely.intersects_xy(self.shapes[area], u[point], v[point])
        return found

    def near(self, starts: Floats, ends: Floats, far: float, but: NDArray[np.bool_] | None = None) -> NDArray[np.bool_]:
        """Which of the stretches between points (n,2) come nearer than `far` mm to an area, `but` to their own ones.

        Of these it is (areas, n); without, all areas count.
        """
        asked = _Asked.of(self.tree, starts, ends, far)
        stretch, polygon = asked.pairs
        return asked.any_near(asked.pairs if but is None else asked.pairs[:, ~but[self.owner[polygon], stretch]])

    def about(self, points: Sequence[Point2], far: float) -> list[int]:
        """How many areas come as near as `far` mm to each point."""
        spots = shapely.points(np.asarray(points).reshape(-1, 2))
        point, polygon = self.tree.query(spots, predicate="dwithin", distance=far)
        near = np.zeros((len(spots), len(self.shapes)), dtype=np.bool_)
        near[point, self.owner[polygon]] = True
        found: list[int] = near.sum(axis=1).tolist()
        return found

    def __len__(self) -> int:
        return len(self.shapes)


def grounds(areas: Sequence[Sequence[Polygon2]]) -> Grounds:
    """Those areas, made ready to be asked."""
    return _grounds(tuple(tuple(polygons) for polygons in areas))


@lru_cache(maxsize=256)
def _grounds(areas: tuple[tuple[Polygon2, ...], ...]) -> Grounds:
    lots = [each_of(polygons) for polygons in areas]
    shapes = np.array([shapely.multipolygons(lot) for lot in lots], dtype=object)
    shapely.prepare(shapes)
    owner = np.repeat(np.arange(len(lots)), [len(lot) for lot in lots])
    each = np.array([each for lot in lots for each in lot], dtype=object)
    shapely.prepare(each)
    return Grounds(shapes, shapely.STRtree(each), owner)


def clearances(polygons: Sequence[Polygon2], lines: Sequence[Line], points: Sequence[Point2]) -> tuple[float, ...]:
    """How far each point is from the nearest polygon or line, mm; 0 inside a polygon, infinite where there is none."""
    tree = taken(polygons, lines).tree
    if not len(tree) or not points:
        return (math.inf,) * len(points)
    (where, _), far = tree.query_nearest(shapely.points(np.asarray(points)), return_distance=True, all_matches=False)
    return tuple(far[np.argsort(where, kind="stable")].tolist())


def bounds_of(polygons: Sequence[Polygon2]) -> Floats:
    """The left, low, right and high ends of polygons (4,); no numbers if there are none."""
    found: Floats = shapely.bounds(area_of(polygons))
    return found


def held(polygons: Sequence[Polygon2], points: Floats) -> Floats:
    """Those of the points (n,2) that lie in the polygons."""
    area = area_of(polygons)
    shapely.prepare(area)
    found: Floats = points[shapely.intersects_xy(area, *points.T)]
    return found


def off_edges(polygons: Sequence[Polygon2], points: Floats) -> Floats:
    """How far points (n,2) are from the nearest edge of polygons, mm."""
    rims = shapely.multilinestrings(shapely.get_rings(each_of(polygons)))
    shapely.prepare(rims)
    found: Floats = shapely.distance(rims, shapely.points(points))
    return found


@dataclass(frozen=True, eq=False, slots=True)
class Taken:
    """Ground that polygons and lines take."""

    tree: shapely.STRtree

    def near(self, starts: Floats, ends: Floats, far: float) -> NDArray[np.bool_]:
        """Whether the stretches between points (n,2), or single points, come nearer than `far` mm."""
        if not len(self.tree):
            return np.zeros(len(starts), dtype=np.bool_)
        asked = _Asked.of(self.tree, starts, ends, far)
        return asked.any_near(asked.pairs)


@dataclass(frozen=True, eq=False, slots=True)
class _Asked:
    """Stretches of which is asked what comes nearer than `far` mm, and the `pairs` (2,n) of which that may be so."""

    shapes: NDArray[np.object_]
    lines: NDArray[np.object_]
    far: float
    pairs: NDArray[np.int64]

    @classmethod
    def of(cls, tree: shapely.STRtree, starts: Floats, ends: Floats, far: float) -> "_Asked":
        """Stretches, or single points, and the pairs of them with what of a tree may be near, in their order."""
        lines = shapely.points(starts) if starts is ends else shapely.linestrings(np.stack([starts, ends], axis=1))
        low, high = np.minimum(starts, ends) - far, np.maximum(starts, ends) + far
        pairs = tree.query(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
        return cls(tree.geometries, lines, far, pairs)

    def near(self, pairs: NDArray[np.int64]) -> NDArray[np.bool_]:
        """Of which pairs it is so. The shapes are prepared: to ask for the same ones again is many times as quick."""
        found: NDArray[np.bool_] = shapely.dwithin(self.shapes[pairs[1]], self.lines[pairs[0]], self.far)
        return found

    def any_near(self, pairs: NDArray[np.int64]) -> NDArray[np.bool_]:
        """Which stretches anything of pairs is near to; where one thing is, the others need not be asked."""
        found = np.zeros(len(self.lines), dtype=np.bool_)
        for _ in range(ROUNDS):
            if pairs.shape[1] < FEW:
                break
            first = np.diff(pairs[0], prepend=-1) != 0
            found[pairs[0, first]] = self.near(pairs[:, first])
            pairs = pairs[:, ~first]
            pairs = pairs[:, ~found[pairs[0]]]
        found[pairs[0, self.near(pairs)]] = True
        return found


def taken(polygons: Sequence[Polygon2], lines: Sequence[Line]) -> Taken:
    """The ground that they take, made ready to be asked; that is many times as quick as to ask for clearances."""
    shapes = np.concatenate([each_of(polygons), lines_of([k for k in lines if len(k) > 1])])
    shapely.prepare(shapes)
    return Taken(shapely.STRtree(shapes))


@lru_cache(maxsize=512)
def roomy_point(polygons: tuple[Polygon2, ...], room: float, toward: Point2 | None = None) -> tuple[Point2, float]:
    """A point inside the polygons and its distance from their edge, mm.

    Without `toward` it is the place with the most room (to a twentieth of the size, or a tenth of its width where it is
    slim). With it, the point nearest to `toward` among those that keep `room` from the edge, or six tenths of the most
    room where there is less; what is long and slim keeps that room at its ends all the same.
    """
    part = _largest(polygons)
    if part.is_empty:
        return (0.0, 0.0), 0.0
    middle, most = _roomiest(polygons)
    if toward is None:
        return middle, most
    points, keep = roomy_points(polygons, room, np.array([toward]))
    return (float(points[0, 0]), float(points[0, 1])), keep


def roomy_points(polygons: tuple[Polygon2, ...], room: float, toward: Floats) -> tuple[Floats, float]:
    """The same of polygons that are not empty toward each of many places (n,2), all of which keep the same room."""
    middle, most = _roomiest(polygons)
    keep = min(room, 0.6 * most)
    core = _inner(polygons, keep, room - keep)
    if core.is_empty:
        return np.tile(middle, (len(toward), 1)), most
    near = shapely.get_coordinates(shapely.shortest_line(core, shapely.points(toward)))
    return near.reshape(-1, 2, 2)[:, 0], keep


@lru_cache(maxsize=512)
def _inner(polygons: tuple[Polygon2, ...], keep: float, ends: float) -> shapely.Geometry:
    """What of the largest part keeps so far off its edge, and so much further off its ends.

    Many ask for the same, each from another place.
    """
    core = shapely.buffer(_largest(polygons), -keep, join_style="mitre")
    return _without_ends(core, ends) if ends > 0 and not core.is_empty else core


def _without_ends(core: shapely.Geometry, by: float) -> shapely.Geometry:
    """A shape without `by` mm at both ends of its length; all of it where that is not more than six times as much."""
    box = shapely.get_coordinates(shapely.oriented_envelope(core))[:4]
    if len(box) < 4:
        return core
    sides = (box[1] - box[0], box[2] - box[1])
    long = max(sides, key=lambda side: float(np.hypot(*side)))
    length = float(np.hypot(*long))
    if length <= 6.0 * by:
        return core
    way = long / length
    across, middle = np.array([-way[1], way[0]]) * length, box.mean(axis=0)
    half = way * (length / 2 - by)
    kept = shapely.intersection(core, shapely.Polygon([middle + s * half + t * across for s, t in _CORNERS]))
    return core if kept.is_empty else kept


def away(polygons: tuple[Polygon2, ...], points: Floats) -> Floats:
    """How far points (n,2) are from the part of polygons in which roomy points lie, mm; no roomy point is nearer."""
    found: Floats = shapely.distance(_largest(polygons), shapely.points(points))
    return found


def roomy_parts(polygons: tuple[Polygon2, ...]) -> list[tuple[Polygon2, ...]]:
    """The parts of the largest part of polygons whose points keep six tenths of the most room from its edge.

    That is found to 1/500 of the size, so that it is known of what is slim as well.
    """
    part = _largest(polygons)
    left, low, right, high = part.bounds
    circle = shapely.maximum_inscribed_circle(part, tolerance=max(max(right - left, high - low) / 500, 1e-6))
    core = shapely.buffer(part, -0.6 * float(circle.length), join_style="mitre")
    parts = [part for part in shapely.get_parts(core) if not part.is_empty]
    return [polygons_of(part) for part in parts]


@lru_cache(maxsize=512)
def _largest(polygons: tuple[Polygon2, ...]) -> shapely.Geometry:
    """The largest part of the area of polygons."""
    parts = shapely.get_parts(area_of(polygons))
    if len(parts) == 1:
        return parts[0]
    return max(parts, key=lambda p: (round(p.area, 6), tuple(round(b, 6) for b in p.bounds)), default=shapely.Polygon())


@lru_cache(maxsize=512)
def _roomiest(polygons: tuple[Polygon2, ...]) -> tuple[Point2, float]:
    """The place in the largest part with the most room, and how much that is, mm."""
    part = _largest(polygons)
    left, low, right, high = part.bounds
    size, slim = max(right - left, high - low), part.area / max(part.length, 1e-9)
    fine = size / 20 if slim > size / 10 else max(slim / 5, size / 500)  # from about four times as long as wide
    circle = shapely.maximum_inscribed_circle(part, tolerance=max(min(fine, size / 20), 1e-6))
    u, v = shapely.get_coordinates(circle)[0].tolist()
    return (u, v), float(circle.length)


def thinned(lines: Sequence[Line], tolerance: float, put: Callable[[Floats], Floats] | None = None) -> list[Line]:
    """The lines without points that lie closer than `tolerance` to the line without them; their ends stay.

    `put` says first where points (n,2) go.
    """
    long = [k for k, line in enumerate(lines) if len(line) > 1]
    drawn = lines_of([lines[k] for k in long], put=put)
    found: list[Line] = [()] * len(lines)
    for k, line in zip(long, polylines(shapely.simplify(drawn, tolerance, preserve_topology=False)), strict=True):
        found[k] = line
    return found
