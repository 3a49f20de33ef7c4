"""Divides a drawing that is larger than the paper into the fewest tiles; draws nothing."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from planbook.drawing.stencil_art import ArtHole, Box, Laid, hole_box, runs_of, saw_line
from planbook.drawing.stencil_lines import cross_reach
from planbook.solids import Area, Path
from planbook.solids.hatch import thinned
from planbook.solids.plane import blank_area, box

OVERLAP = 10.0
"""How far neighbouring tiles overlap, mm."""
MOST_TILES = 40
"""A stencil of more tiles than this is not printed: nobody glues it together without losing its size."""
_ROOM = 1.0
_INK = 0.4
"""Width of the strip along a line that has to be on a tile, mm."""
_LAID, _STRAIGHT = 20.0, 0.05
"""So much of a side of the piece on one tile is enough to lay the paper by, if it is so straight, mm."""
_BESIDE, _MUCH = 3.0, 40.0
"""A line this near to an edge that is cut runs along it or across it, mm; and how many mm more of them count."""
_SHIFTS = (0.5, 0.25, 0.75, 0.0, 1.0)


class TooManyTiles(Exception):  # noqa: N818 - it reports the design, not a failure of the program
    """A stencil that would take more than `most` tiles: `number`, `title`, `tiles` needed, its size in mm."""

    def __init__(self, number: int, title: str, tiles: int, most: int, width: float, height: float) -> None:
        super().__init__(number, title, tiles, most, width, height)
        self.number, self.title, self.tiles, self.most = number, title, tiles, most
        self.width, self.height = width, height

    def __str__(self) -> str:
        size = f"{self.width:.0f} x {self.height:.0f} mm"
        return f"stencil {self.number} is {size} and would take {self.tiles} tiles; {self.most} is the most"


def row_name(row: int) -> str:
    """The letters of a row, counted from 0: A to Z, then AA."""
    letters, left = "", row + 1
    while left:
        left, rest = divmod(left - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


@dataclass(frozen=True, slots=True)
class Tile:
    """A tile: row and column from 0, and the box of the drawing that it shows, overlap included."""

    row: int
    column: int
    box: Box

    @property
    def name(self) -> str:
        """Row as a letter, column as a number from 1."""
        return f"{row_name(self.row)}{self.column + 1}"

    @property
    def area(self) -> Area:
        """What it shows, as an area."""
        left, top, right, bottom = self.box
        return box(left, top, right - left, bottom - top)


@dataclass(frozen=True, slots=True)
class Grid:
    """The tiles of a stencil, row by row; those that would be empty are left out."""

    tiles: tuple[Tile, ...]
    rows: int
    columns: int

    def beside(self, tile: Tile, rows: int, columns: int) -> Tile | None:
        """The tile some rows down and columns to the right, if there is one."""
        wanted = (tile.row + rows, tile.column + columns)
        return next((t for t in self.tiles if (t.row, t.column) == wanted), None)


def counts(extent: Box, size: tuple[float, float]) -> tuple[int, int]:
    """Rows and columns of tiles that cover a box; 1 mm is kept free all round for the widths of lines."""
    spans = (extent[3] - extent[1] + 2 * _ROOM, extent[2] - extent[0] + 2 * _ROOM)
    steps = (size[1] - OVERLAP, size[0] - OVERLAP)
    rows, columns = (max(1, math.ceil((s - OVERLAP) / t - 1e-9)) for s, t in zip(spans, steps, strict=True))
    return rows, columns


def grid_of(paper: Laid, size: tuple[float, float]) -> Grid:
    """The grid, shifted so that fewest tiles are needed and, among equals, fewest holes and lines lie on joins.

    `size` is the width and height of a tile, mm. Raises TooManyTiles.
    """
    rows, columns = counts(paper.bounds, size)
    if rows * columns > MOST_TILES:
        left, top, right, bottom = paper.bounds
        art = paper.art
        raise TooManyTiles(art.number, art.title, rows * columns, MOST_TILES, right - left, bottom - top)
    straight, bent = _sides(paper)
    work = _work(paper).plus(*bent)
    ink = work.plus(*straight)
    across, down = (_SHIFTS if n > 1 else _SHIFTS[:1] for n in (columns, rows))
    grids = [_kept(_full(paper.bounds, size, rows, columns, sx, sy), work, straight) for sy in down for sx in across]
    costs = [(len(grid.tiles), *_holes_met(grid, paper)) for grid in grids]
    best = [grid for grid, cost in zip(grids, costs, strict=True) if cost == min(costs)]
    return best[0] if len(best) == 1 else min(best, key=lambda grid: _along_seams(grid, ink))


def _full(extent: Box, size: tuple[float, float], rows: int, columns: int, sx: float, sy: float) -> Grid:
    """All tiles of a grid whose slack is spread `sx` to the left and `sy` above."""
    step_x, step_y = size[0] - OVERLAP, size[1] - OVERLAP
    slack_x = columns * step_x + OVERLAP - (extent[2] - extent[0]) - 2 * _ROOM
    slack_y = rows * step_y + OVERLAP - (extent[3] - extent[1]) - 2 * _ROOM
    x0, y0 = extent[0] - _ROOM - slack_x * sx, extent[1] - _ROOM - slack_y * sy
    tiles = [
        Tile(r, c, (x0 + c * step_x, y0 + r * step_y, x0 + c * step_x + size[0], y0 + r * step_y + size[1]))
        for r in range(rows)
        for c in range(columns)
    ]
    return Grid(tuple(tiles), rows, columns)


def _work(paper: Laid) -> Area:
    """A narrow strip along all that is sawn, sanded to or bored: all of it must be on some tile."""
    runs = [run for line in paper.lines for shape in (saw_line(line), line.outline) for run in runs_of(shape)]
    strips = [run.band(_INK) for run in runs]
    boxes = [hole_box(hole) for hole in paper.holes]
    strips += [box(b[0], b[1], b[2] - b[0], b[3] - b[1]) for b in boxes]
    return blank_area().plus(*strips) if strips else blank_area()


def _sides(paper: Laid) -> tuple[list[Area], list[Area]]:
    """Narrow strips along the edges of the piece: its straight sides one by one, and what is bent or short."""
    edges = thinned([edge.points for edge in paper.edges], _STRAIGHT)
    sides = [side for edge in edges for side in pairwise(edge)]
    straight, bent = (
        [Path(side).band(_INK) for side in sides if (math.dist(*side) > _LAID) == long] for long in (True, False)
    )
    return straight, bent


def _kept(grid: Grid, work: Area, sides: Sequence[Area]) -> Grid:
    """The grid without tiles whose lines are all on others; the emptiest are given up first.

    Those that are left hang together, so that each can be laid on a neighbour, and bear enough of every straight side
    of the piece to lay the paper by; `sides` are those.
    """
    if len(grid.tiles) <= 2:
        return grid
    areas = {tile: tile.area for tile in grid.tiles}
    works = {tile: work.in_box(*tile.box) for tile in grid.tiles}
    long = {tile: [side.in_box(*tile.box).size / _INK for side in sides] for tile in grid.tiles}
    wanted = [min(_LAID, side.size / _INK - _ROOM) for side in sides]
    for tile in sorted(grid.tiles, key=lambda t: (round(works[t].size + _INK * sum(long[t]), 3), t.row, t.column)):
        rest = [other for other in areas if other is not tile]
        others = [areas[other] for other in rest if _touch(tile, other)]
        spare = (works[tile].minus(*others) if others else works[tile]).empty
        told = all(
            any(long[other][n] >= least for other in rest) for n, least in enumerate(wanted) if long[tile][n] > 0
        )
        if rest and spare and told and _hang_together(rest):
            del areas[tile]
    return Grid(tuple(areas), grid.rows, grid.columns)


def _hang_together(tiles: Sequence[Tile]) -> bool:
    """Whether every tile can be reached from the first over sides that two of them share."""
    places = {(tile.row, tile.column) for tile in tiles}
    reached, ahead = set[tuple[int, int]](), [next(iter(places))]
    while ahead:
        row, column = ahead.pop()
        if (row, column) in places - reached:
            reached.add((row, column))
            ahead += [(row - 1, column), (row + 1, column), (row, column - 1), (row, column + 1)]
    return reached == places


def _touch(tile: Tile, other: Tile) -> bool:
    """Whether two different tiles overlap."""
    return tile is not other and abs(tile.row - other.row) <= 1 and abs(tile.column - other.column) <= 1


def _holes_met(grid: Grid, paper: Laid) -> tuple[int, int]:
    """How many holes have a part on two papers, and how many lie at least partly where two papers overlap.

    A sheet that is laid over another is cut off at its own edge: a hole there would be half on the one and half on the
    other, and stand where it does only if they are glued without any error.
    """
    seams = _seams(grid)
    overlaps = [(b[0], b[1], max(b[2], b[0] + OVERLAP), max(b[3], b[1] + OVERLAP)) for b in seams]
    return sum(_met(hole, seams) for hole in paper.holes), sum(_met(hole, overlaps) for hole in paper.holes)


def _seams(grid: Grid) -> list[Box]:
    """The edges at which a tile is cut off to be laid over the one before it, as boxes without a width."""
    found = []
    for tile in grid.tiles:
        left, top, right, bottom = tile.box
        found += [(left, top, left, bottom)] if grid.beside(tile, 0, -1) is not None else []
        found += [(left, top, right, top)] if grid.beside(tile, -1, 0) is not None else []
    return found


def _along_seams(grid: Grid, ink: Area) -> int:
    """How much is drawn near the edges that are cut, in steps: a line that runs along one is sawn half on each sheet.

    What differs less than a step is left as even as it was.
    """
    beside = ((b[0] - _BESIDE, b[1] - _BESIDE, b[2] + _BESIDE, b[3] + _BESIDE) for b in _seams(grid))
    return round(sum(ink.in_box(*each).size for each in beside) / _INK / _MUCH)


def _met(hole: ArtHole, boxes: Sequence[Box]) -> bool:
    """Whether the cross of a hole meets one of some boxes."""
    (u, v), reach = hole.at, cross_reach(hole)
    return any(u - reach < b[2] and b[0] < u + reach and v - reach < b[3] and b[1] < v + reach for b in boxes)


def lone_areas(tiles: Sequence[Tile]) -> Area:
    """Where words may stand: on one tile only, so that none is cut by a join or printed twice."""
    found = []
    for tile in tiles:
        others = [other.area for other in tiles if other is not tile]
        found.append(tile.area.minus(*others) if others else tile.area)
    return blank_area().plus(*found)
