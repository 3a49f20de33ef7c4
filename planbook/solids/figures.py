"""Polygons and lines of a picture as geometries of the library, many in one go, and back; used by plane jobs only."""

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import chain, pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from planbook.solids.plane import Point2
from planbook.solids.visible import Polygon2
from planbook.solids.visible_chain import polylines

Line = tuple[Point2, ...]
Floats = NDArray[np.float64]
LINE, POLYGON = 1, 3
"""What the geometry library calls them."""


def area_of(polygons: Sequence[Polygon2]) -> shapely.Geometry:
    """The area of polygons; those that only lie side by side need no union."""
    return _area_of(tuple(polygons))


@lru_cache(maxsize=512)
def _area_of(polygons: tuple[Polygon2, ...]) -> shapely.Geometry:
    drawn = _each_of(polygons)
    if not len(drawn):
        return shapely.Polygon()
    area = drawn[0] if len(drawn) == 1 else shapely.multipolygons(drawn)
    return area if shapely.is_valid(area) else shapely.union_all(valid(drawn))


def areas_of(areas: Sequence[Sequence[Polygon2]]) -> NDArray[np.object_]:
    """The same for several, made in one go."""
    shapes = [(k, (outer, *holes)) for k, polygons in enumerate(areas) for outer, holes in polygons if len(outer) > 2]
    if not shapes:
        return np.array([shapely.Polygon()] * len(areas), dtype=object)
    drawn = _drawn([shape for _, shape in shapes])
    ends = np.searchsorted([k for k, _ in shapes], np.arange(len(areas) + 1)).tolist()
    lots = [drawn[start:end] for start, end in pairwise(ends)]
    found = np.array([lot[0] if len(lot) == 1 else shapely.multipolygons(lot) for lot in lots], dtype=object)
    for k in np.flatnonzero(~shapely.is_valid(found)).tolist():
        found[k] = shapely.union_all(valid(lots[k]))
    return found


def rims_of(areas: Sequence[Sequence[Polygon2]]) -> list[float]:
    """How long all rings of each of several areas are, mm."""
    found: list[float] = shapely.length(areas_of(areas)).tolist()
    return found


def each_of(polygons: Sequence[Polygon2]) -> NDArray[np.object_]:
    """Each of the polygons, which may lie side by side, as one geometry, made in one go."""
    return _each_of(tuple(polygons))


@lru_cache(maxsize=1024)
def _each_of(polygons: tuple[Polygon2, ...]) -> NDArray[np.object_]:
    """More than half of what a picture asks for it has asked for before."""
    found = _drawn([(outer, *holes) for outer, holes in polygons if len(outer) > 2])
    found.flags.writeable = False
    return found


def _drawn(shapes: Sequence[Sequence[Line]]) -> NDArray[np.object_]:
    """Polygons, each given by its rings, the outer one first."""
    rings = lines_of([ring for shape in shapes for ring in shape], shapely.linearrings)
    owners = np.repeat(np.arange(len(shapes)), [len(shape) for shape in shapes])
    found: NDArray[np.object_] = shapely.polygons(rings, indices=owners)
    return found


def lines_of(
    lines: Sequence[Line],
    make: Callable[..., NDArray[np.object_]] = shapely.linestrings,
    put: Callable[[Floats], Floats] | None = None,
) -> NDArray[np.object_]:
    """Lines as geometries, made in one go; `put` says where points (n,2) go."""
    points = points_of(lines)
    indices = np.repeat(np.arange(len(lines)), [len(line) for line in lines])
    return make(points if put is None else put(points), indices=indices)


def points_of(lines: Sequence[Line]) -> Floats:
    """The points of all lines (n,2); several times as quick as an array made of tuples."""
    return np.fromiter(chain.from_iterable(chain.from_iterable(lines)), np.float64).reshape(-1, 2)


def valid(shapes: NDArray[np.object_]) -> NDArray[np.object_]:
    """The shapes, those that cross themselves mended."""
    good = shapely.is_valid(shapes)
    fixed: NDArray[np.object_] = np.where(good, shapes, shapely.buffer(shapes, 0)) if not good.all() else shapes
    return fixed


def cut_to(area: shapely.Geometry, lines: Sequence[Line]) -> tuple[Line, ...]:
    """The stretches of lines that lie in an area."""
    return tuple(run for _, run in runs_in(area, lines))


def runs_in(area: shapely.Geometry, lines: Sequence[Line]) -> Iterator[tuple[int, Line]]:
    """The same, each with the number of its line."""
    drawn = [(k, line) for k, line in enumerate(lines) if len(line) > 1]
    if not drawn or area.is_empty:
        return iter(())
    shapely.prepare(area)
    pieces, line = shapely.get_parts(
        shapely.intersection(lines_of([each for _, each in drawn]), area), return_index=True
    )
    parts, piece = shapely.get_parts(pieces, return_index=True)
    whole = (shapely.get_type_id(parts) == LINE) & (shapely.length(parts) > 1e-6)
    return zip([drawn[k][0] for k in line[piece[whole]].tolist()], polylines(parts[whole]), strict=True)


def polygons_of(shape: shapely.Geometry) -> tuple[Polygon2, ...]:
    """The polygons of one shape, in a fixed order."""
    return all_polygons_of(np.array([shape], dtype=object))[0]


def all_polygons_of(shapes: NDArray[np.object_]) -> list[tuple[Polygon2, ...]]:
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
