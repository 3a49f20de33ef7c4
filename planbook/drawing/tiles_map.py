"""The small map on a tile that shows where it goes; its letters and numbers stand outside it, where no line is."""

import math
from collections.abc import Callable, Iterable

from planbook.drawing.lettering import RISE
from planbook.drawing.marks import Fill, Mark, Pen, Point, Ring, Stroke, Words
from planbook.drawing.stencil_art import Box, Laid, joined_boxes, runs_of
from planbook.drawing.stencil_pens import EDGE, INK, SOFT
from planbook.drawing.tiles_grid import OVERLAP, Grid, Tile, row_name

_SIZE = 2.2
_STRIP = 3.2
"""Type size of the letters and numbers, and the room for them above and left of the map, mm."""
_HERE = "#c9c6bb"


def map_width(grid: Grid, size: tuple[float, float]) -> float:
    """How wide the map with its letters is in a room of this size, mm."""
    left, _, right, _ = joined_boxes([each.box for each in grid.tiles])
    return _STRIP + (right - left) * _scale(grid, size)


def _scale(grid: Grid, size: tuple[float, float]) -> float:
    left, top, right, bottom = joined_boxes([each.box for each in grid.tiles])
    return min((size[0] - _STRIP) / (right - left), (size[1] - _STRIP) / (bottom - top))


def map_marks(paper: Laid, grid: Grid, tile: Tile, at: Point, size: tuple[float, float]) -> tuple[Mark, ...]:
    """The whole stencil made small, with its tiles, this one dark; `at` is the upper left corner of its room."""
    left, top, right, _ = joined_boxes([each.box for each in grid.tiles])
    scale = _scale(grid, size)
    x, y = at[0] + size[0] - (right - left) * scale, at[1] + _STRIP

    def small(points: Iterable[Point]) -> Ring:
        return tuple((x + (u - left) * scale, y + (v - top) * scale) for u, v in points)

    rings = {each: small(_corners(_own(each, grid))) for each in grid.tiles}
    edges = [edge.points for edge in paper.edges]
    lines = [run.points for line in paper.lines for run in runs_of(line.outline)]
    return (
        Fill((rings[tile],), _HERE, "map"),
        *(Stroke(ring, Pen(0.13, SOFT), "map", closed=True) for ring in rings.values()),
        *(Stroke(small(points), EDGE, "map") for points in edges),
        *(Stroke(small(points), Pen(0.18, INK), "map") for points in lines),
        *_letters(grid, tile, (x, y), lambda each: rings[each]),
    )


def _own(tile: Tile, grid: Grid) -> Box:
    """The box of a tile up to the middle of where it overlaps its neighbours, so that one line parts them."""
    left, top, right, bottom = tile.box
    half = OVERLAP / 2
    sides = ((0, -1), (-1, 0), (0, 1), (1, 0))
    inner = [half if grid.beside(tile, *side) is not None else 0.0 for side in sides]
    return (left + inner[0], top + inner[1], right - inner[2], bottom - inner[3])


def _corners(frame: Box) -> Ring:
    left, top, right, bottom = frame
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _letters(grid: Grid, tile: Tile, corner: Point, ring: Callable[[Tile], Ring]) -> Iterable[Mark]:
    """Letters of rows on the left and numbers of columns above, as many as have room; those of this tile are bold."""
    rows, columns = {}, {}
    for each in grid.tiles:
        (left, top), _, (right, bottom), _ = ring(each)
        rows[each.row], columns[each.column] = (top + bottom) / 2, (left + right) / 2
    for row in _with_room(rows, tile.row):
        at = (corner[0] - 0.8, rows[row] + RISE * _SIZE)
        yield Words(at, row_name(row), _SIZE, "end", bold=row == tile.row, layer="map")
    for column in _with_room(columns, tile.column):
        at = (columns[column], corner[1] - 0.9)
        yield Words(at, str(column + 1), _SIZE, "middle", bold=column == tile.column, layer="map")


def _with_room(middles: dict[int, float], here: int) -> list[int]:
    """Every row, or every so many of them, counted from this one, where they lie closer than type can stand."""
    if len(middles) < 2:
        return list(middles)
    step = (max(middles.values()) - min(middles.values())) / (max(middles) - min(middles))
    every = math.ceil(1.25 * _SIZE / step)
    return [number for number in middles if (number - here) % every == 0]
