"""The pages of a stencil that is larger than the paper; how it is divided is the grid's work."""

import math
from collections.abc import Sequence

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Mark, Picture, Words, moved
from planbook.drawing.sheet_block import number_tag, short_where
from planbook.drawing.sheet_check import BARS_HEIGHT, SQUARE_HEIGHT, SQUARE_IN, check_square
from planbook.drawing.sheet_paper import HEAD, SAID, Kind, SheetPaper, StencilPage, foot
from planbook.drawing.stencil_art import Laid, StencilArt, cropped, laid
from planbook.drawing.stencil_figure import Figure, draw_figure, ink_bands
from planbook.drawing.stencil_pens import BODY, SMALL
from planbook.drawing.stencil_room import find_room, rectangle
from planbook.drawing.stencil_words import broken, cut_short
from planbook.drawing.tiles_grid import MOST_TILES, OVERLAP, Grid, Tile, counts, grid_of, lone_areas
from planbook.drawing.tiles_map import map_marks, map_width
from planbook.drawing.tiles_marks import Join, cut_to, frame_marks, joins, match_marks, unhatched

_MAP = (30.0, BARS_HEIGHT + SAID)
_TITLE = 4.2
_BESIDE = 5.0
_NARROW = 25.0
"""Space before a note in the head, and the least room for one, mm."""


def tile_pages(art: StencilArt, sheet: SheetPaper) -> list[StencilPage]:
    """A stencil in the fewest tiles: whole or cropped, upright or turned. Raises TooManyTiles.

    Where one tile holds it all (its caption alone was too much for a page), that is a single page.
    """
    ways = [laid(each, turned) for each in (art, cropped(art, 12.0)) for turned in (False, True)]
    needed = [math.prod(counts(way.bounds, sheet.tile)) for way in ways]
    near = [way for way, n in zip(ways, needed, strict=True) if n <= min(2 * min(needed), MOST_TILES)]
    grids = [(grid_of(way, sheet.tile), way) for way in near or [ways[needed.index(min(needed))]]]
    grid, paper = min(grids, key=lambda pair: len(pair[0].tiles))
    figure = draw_figure(paper, sheet.words, sheet.style, room=lone_areas(grid.tiles), beside=False)
    matches = joins(grid, paper)
    return [_page(paper, grid, tile, figure, matches, sheet) for tile in grid.tiles]


def _page(
    paper: Laid, grid: Grid, tile: Tile, figure: Figure, matches: Sequence[Join], sheet: SheetPaper
) -> StencilPage:
    art, m, words = paper.art, sheet.margin, sheet.words
    drawn = list(cut_to(figure.marks, tile))
    here = [join for join in matches if tile in (join.first, join.second)]
    drawn += [mark for join in here for mark in match_marks(join)]
    drawn += _square(paper, tile, sheet)
    names = {"number": art.number, "total": art.total, "title": art.title}
    at = (sheet.width - m - _MAP[0], sheet.height - m - _MAP[1])
    if len(grid.tiles) > 1:
        under, over = frame_marks(tile, grid, paper, drawn, words)
        drawn = list(unhatched(drawn, over, here, tile))
        small = map_marks(paper, grid, tile, at, _MAP)
        alt, where = words.alt_tile.format(**names, name=tile.name), (tile.row + 1, tile.column + 1)
    else:
        under, over, small, alt, where = (), (), (), words.alt.format(**names), None
    placed = moved((*under, *drawn, *over), m - tile.box[0], m + HEAD - tile.box[1])
    below = foot((*drawn, *over), sheet, map_width(grid, _MAP) + 3.0)
    marks = (*_head(paper, grid, tile, figure.notes, sheet), *placed, *below, *small)
    kind: Kind = "single" if where is None else "tile"
    return StencilPage(Picture(sheet.width, sheet.height, marks, alt), kind, (art.number,), where, art.title)


def _square(paper: Laid, tile: Tile, sheet: SheetPaper) -> tuple[Mark, ...]:
    """The check squares on the empty part of a tile, where there is one."""
    inner = tile.area.offset(-OVERLAP - 1.0)
    free = inner.minus(paper.face, *ink_bands(paper, 3.0))
    spot = find_room(free, rectangle((0, 0), SQUARE_IN + 1, SQUARE_HEIGHT), tile.box[2:])
    if spot is None:
        return ()
    return check_square((spot[0] - SQUARE_IN / 2, spot[1] - SQUARE_HEIGHT / 2 + 2.6), sheet.words)


def _head(paper: Laid, grid: Grid, tile: Tile, notes: Sequence[str], sheet: SheetPaper) -> tuple[Mark, ...]:
    """Number, title and tile in one line, where it is stuck in the next."""
    art, m, words = paper.art, sheet.margin, sheet.words
    tag, taken = number_tag(art, words)
    number, count = grid.tiles.index(tile) + 1, len(grid.tiles)
    name = words.tile.format(name=tile.name, number=number, count=count) if count > 1 else ""
    width = sheet.body[0] - taken - width_of(name, BODY, bold=True) - 6
    second = " ".join((short_where(art, words, math.inf), *notes))
    said = [
        Words((m + taken + 2.5, m + 4.4), cut_short(art.title, _TITLE, width, bold=True), _TITLE, bold=True),
        Words((m, m + 9.4), cut_short(second, SMALL, sheet.body[0]), SMALL),
        Words((sheet.width - m, m + 4.4), name, BODY, "end", bold=True),
    ]
    long = width_of(said[0].text, _TITLE, bold=True)
    said += _note(art.note, (m + taken + 2.5 + long + _BESIDE, m), width - long - _BESIDE)
    lines = (Words(w.at, w.text, w.size, w.anchor, bold=w.bold, layer="words") for w in said if w.text)
    return (*moved(tag, m, m), *lines)


def _note(text: str, at: tuple[float, float], room: float) -> list[Words]:
    """The maker's note between the title and the name of the tile, in two lines; `room` is how long they may be."""
    lines = broken(text, SMALL, room, 2) if text and room > _NARROW else ()
    first = 4.4 if len(lines) == 1 else 2.4
    return [Words((at[0], at[1] + first + n * 1.15 * SMALL), line, SMALL) for n, line in enumerate(lines)]
