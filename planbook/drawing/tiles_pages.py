"""The pages of a stencil that is larger than the paper; how it is divided is the grid's work."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Mark, Picture, Words, moved
from planbook.drawing.sheet_block import copies_of, number_tag, short_where
from planbook.drawing.sheet_check import BARS_HEIGHT, SQUARE_HEIGHT, SQUARE_IN, check_square
from planbook.drawing.sheet_paper import BELONGS, HEAD, SAID, Kind, SheetPaper, StencilPage, foot
from planbook.drawing.sheet_upright import upright_bars
from planbook.drawing.stencil_art import Laid, StencilArt, cropped, laid
from planbook.drawing.stencil_figure import Figure, draw_figure, ink_bands, mark_box
from planbook.drawing.stencil_pens import BODY, SMALL
from planbook.drawing.stencil_room import find_room, rectangle, words_box
from planbook.drawing.stencil_words import fitted, lines_of
from planbook.drawing.tiles_grid import MOST_TILES, OVERLAP, Grid, Tile, counts, grid_of, lone_areas
from planbook.drawing.tiles_map import map_marks, map_width
from planbook.drawing.tiles_marks import Join, cut_to, frame_marks, joins, match_marks, unhatched
from planbook.solids import Area
from planbook.solids.plane import blank_area, box

_MAP = (30.0, BARS_HEIGHT + SAID)
_TITLES = ((4.2, 1), (3.6, 1), (3.0, 1), (SMALL, 2))
_SAID_BELOW = ((SMALL, 1), (2.3, 2), (2.1, 2))
"""Sizes of words in the head, mm, and how many lines they may have at each; smaller rather than cut off."""
LAST = HEAD - 1.1
"""Where the second of two such lines stands, mm: its letters keep off the edge of the tile."""
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
    check = _square(paper, tile, sheet) or _upright(paper, grid, tile, figure, drawn)
    drawn += check
    names = {"number": art.number, "total": art.total, "title": art.title}
    at = (sheet.width - m - _MAP[0], sheet.height - m - BELONGS - _MAP[1])
    if len(grid.tiles) > 1:
        under, over = frame_marks(tile, grid, paper, drawn, words)
        drawn = list(unhatched(drawn, (*over, *check), here, tile))
        small = map_marks(paper, grid, tile, at, _MAP)
        alt, where = words.alt_tile.format(**names, name=tile.name), (tile.row + 1, tile.column + 1)
    else:
        under, over, small, alt, where = (), (), (), words.alt.format(**names), None
    placed = moved((*under, *drawn, *over), m - tile.box[0], m + HEAD - tile.box[1])
    below = foot((*drawn, *over), sheet, map_width(grid, _MAP) + 3.0)
    marks = (*_head(paper, grid, tile, figure.notes, sheet), *placed, *below, *small)
    kind: Kind = "single" if where is None else "tile"
    picture = Picture(sheet.width, sheet.height, marks, alt)
    return StencilPage(picture, kind, (art.number,), where, art.title, copies_of(art))


def _square(paper: Laid, tile: Tile, sheet: SheetPaper) -> tuple[Mark, ...]:
    """The check squares on the empty part of a tile, where there is one."""
    inner = tile.area.offset(-OVERLAP - 1.0)
    free = inner.minus(paper.face, *ink_bands(paper, 3.0))
    spot = find_room(free, rectangle((0, 0), SQUARE_IN + 1, SQUARE_HEIGHT), tile.box[2:])
    if spot is None:
        return ()
    return check_square((spot[0] - SQUARE_IN / 2, spot[1] - SQUARE_HEIGHT / 2 + 2.6), sheet.words)


def _upright(paper: Laid, grid: Grid, tile: Tile, figure: Figure, drawn: Sequence[Mark]) -> tuple[Mark, ...]:
    """Upright bars on paper of a tile that is stuck on nothing, else on bare wood or waste, off its tabs and marks."""
    left, top, right, bottom = tile.box
    kept = [OVERLAP if grid.beside(tile, *side) else 0.0 for side in ((0, -1), (-1, 0), (0, 1), (1, 0))]
    inner = box(left + kept[0], top + kept[1], right - left - kept[0] - kept[2], bottom - top - kept[1] - kept[3])
    said = [words_box(mark).offset(1.0) for mark in drawn if isinstance(mark, Words)]
    beside = inner.offset(-1.0).minus(paper.face, *ink_bands(paper, 2.0), *said)
    bare = inner.offset(-1.0).meet(figure.bare.offset(-2.0)).minus(*said) if said else inner.meet(figure.bare)
    waste = [region.area.offset(-2.0) for region in paper.regions if region.waste]
    over = inner.offset(-1.0).meet(blank_area().plus(*waste)).minus(*ink_bands(paper, 2.0), *said, *_marked(drawn))
    return upright_bars((beside, bare, over), (right, bottom))


def _marked(drawn: Sequence[Mark]) -> list[Area]:
    """Where something other than the hatching of waste is drawn over it."""
    boxes = (mark_box(mark) for mark in drawn if mark.layer in ("hole", "centre", "match"))
    return [box(b[0], b[1], b[2] - b[0], b[3] - b[1]).offset(1.0) for b in boxes]


def _head(paper: Laid, grid: Grid, tile: Tile, notes: Sequence[str], sheet: SheetPaper) -> tuple[Mark, ...]:
    """Number, title, the maker's note and the tile in one line, where it is stuck in the next one or two."""
    art, m, words = paper.art, sheet.margin, sheet.words
    tag, taken = number_tag(art, words)
    number, count = grid.tiles.index(tile) + 1, len(grid.tiles)
    name = words.tile.format(name=tile.name, number=number, count=count) if count > 1 else ""
    width = sheet.body[0] - taken - width_of(name, BODY, bold=True) - 6
    at = (m + taken + 2.5, m)
    size, lines = fitted(art.title, _TITLES, width, bold=True)
    long = max(width_of(line, size, bold=True) for line in lines)
    note = _note(art.note, width - long - _BESIDE)
    below = (short_where(art, words), *notes, "" if note else art.note)
    said = [
        *_lines(lines, size, at, bold=True),
        *_lines(note, SMALL, (at[0] + long + _BESIDE, m)),
        Words((sheet.width - m, m + 4.4), name, BODY, "end", bold=True),
        *_below(" ".join(text for text in below if text), (m, m), sheet.body[0]),
    ]
    return (*moved(tag, m, m), *(replace(w, layer="words") for w in said if w.text))


def _note(text: str, room: float) -> tuple[str, ...]:
    """The maker's note in the two lines between the title and the name of the tile; nothing where it has no room."""
    lines = lines_of(text, SMALL, room) if text and room > _NARROW else ()
    return lines if len(lines) <= 2 else ()


def _lines(lines: Sequence[str], size: float, at: tuple[float, float], bold: bool = False) -> Iterator[Words]:
    """One or two lines level with the number of the stencil."""
    first = 4.4 if len(lines) == 1 else 2.4
    for n, line in enumerate(lines):
        yield Words((at[0], at[1] + first + n * 1.15 * SMALL), line, size, bold=bold)


def _below(text: str, at: tuple[float, float], width: float) -> Iterator[Words]:
    """What is said under the title: in one line, or smaller in two rather than cut off."""
    size, lines = fitted(text, _SAID_BELOW, width)
    first = 9.4 if len(lines) == 1 else LAST - 1.1 * size
    for n, line in enumerate(lines):
        yield Words((at[0], at[1] + first + n * 1.1 * size), line, size)
