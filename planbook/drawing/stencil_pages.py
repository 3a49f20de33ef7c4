"""Lays stencils on pages of true size: alone, several to a page, or in tiles; draws no lines itself."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Mark, Picture, Stroke, Words, moved
from planbook.drawing.sheet_block import Block, block_of, number_tag, short_where
from planbook.drawing.sheet_check import (
    BARS_HEIGHT,
    BARS_WIDTH,
    SQUARE_HEIGHT,
    SQUARE_IN,
    check_bars,
    check_square,
    instruction,
    key,
)
from planbook.drawing.sheet_pack import Rect, Sheet, pack
from planbook.drawing.stencil_art import Laid, StencilArt, cropped, laid
from planbook.drawing.stencil_figure import Figure, draw_figure, ink_bands, layers_of
from planbook.drawing.stencil_pens import BODY, FRAME, SMALL
from planbook.drawing.stencil_room import find_room, rectangle
from planbook.drawing.stencil_words import StencilWords, cut_short
from planbook.drawing.tiles_grid import MOST_TILES, OVERLAP, Grid, Tile, counts, grid_of, lone_areas
from planbook.drawing.tiles_marks import Join, cut_to, frame_marks, joins, map_marks, match_marks
from planbook.solids.plane import box
from planbook.units import LengthStyle

A4 = (210.0, 297.0)
"""ISO 216."""
A3 = (297.0, 420.0)
"""ISO 216."""
LETTER = (215.9, 279.4)
"""ANSI/ASME Y14.1 size A, 8 1/2 x 11 in."""
TABLOID = (279.4, 431.8)
"""ANSI/ASME Y14.1 size B, 11 x 17 in."""

MARGIN = 8.0
GAP = 9.0
SAID = 4.2
FOOT = BARS_HEIGHT + SAID + 3.0
HEAD = 11.5
_MAP = (30.0, BARS_HEIGHT + SAID)
_LEAST = (BARS_WIDTH + 1.0, 90.0)

Kind = Literal["single", "shared", "tile"]


class PaperTooSmall(Exception):  # noqa: N818 - it reports what was asked for, not a failure of the program
    """A paper inside whose margins the check bars and a stencil have no room; `width` and `height` in mm."""

    def __init__(self, width: float, height: float, margin: float) -> None:
        super().__init__(width, height, margin)
        self.width, self.height, self.margin = width, height, margin

    def __str__(self) -> str:
        paper = f"{self.width:g} x {self.height:g} mm with margins of {self.margin:g} mm"
        needed = f"{_LEAST[0]:g} x {_LEAST[1]:g} mm must be left inside"
        return f"paper of {paper} is too small for stencils; {needed}"


@dataclass(frozen=True, slots=True)
class StencilPage:
    """A full page: its picture, the stencils on it by number, and its row and column (from 1) if a tile."""

    picture: Picture
    kind: Kind
    numbers: tuple[int, ...]
    tile: tuple[int, int] | None
    title: str


@dataclass(frozen=True, slots=True)
class _Paper:
    width: float
    height: float
    margin: float
    words: StencilWords
    style: LengthStyle

    @property
    def body(self) -> tuple[float, float]:
        """Room for stencils above the checking bars."""
        return self.width - 2 * self.margin, self.height - 2 * self.margin - FOOT

    @property
    def tile(self) -> tuple[float, float]:
        """Room for a tile between its head and the bars."""
        return self.body[0], self.body[1] - HEAD


def stencil_pages(
    arts: Sequence[StencilArt],
    paper: tuple[float, float],
    margin_mm: float,
    words: StencilWords,
    style: LengthStyle,
) -> tuple[StencilPage, ...]:
    """Every stencil on the fewest pages of a paper (width, height in mm), in the order of their numbers.

    One that fits no page is cropped to its work and, if need be, tiled.
    Raises TooManyTiles and PaperTooSmall.
    """
    sheet = _Paper(*paper, margin_mm, words, style)
    if sheet.body[0] < _LEAST[0] or sheet.tile[1] + HEAD + FOOT < _LEAST[1]:
        raise PaperTooSmall(*paper, margin_mm)
    whole: list[tuple[StencilArt, list[Block]]] = []
    tiled: list[StencilPage] = []
    for art in arts:
        blocks = _blocks(art, sheet)
        if blocks:
            whole.append((art, blocks))
        else:
            tiled.extend(_tiles(art, sheet))
    shapes = [[(block.width, block.height) for block in blocks] for _, blocks in whole]
    packed = pack(shapes, sheet.body, GAP)
    pages = [_page(one, whole, sheet) for one in packed] + tiled
    return tuple(sorted(pages, key=lambda page: (min(page.numbers), page.tile or (0, 0))))


def _blocks(art: StencilArt, sheet: _Paper) -> list[Block]:
    """The stencil in the ways in which it fits a page: upright, turned; cropped only if nothing else fits."""
    width, height = sheet.body
    for each in (art, *crops(art, sheet.style)):
        fits = []
        for turned in (False, True):
            left, top, right, bottom = laid(each, turned).bounds
            if right - left <= width and bottom - top <= height:
                block = block_of(each, turned, width, sheet.words, sheet.style)
                if block.width <= width + 1e-6 and block.height <= height + 1e-6:
                    fits.append(block)
        if fits:
            return fits
    return []


def crops(art: StencilArt, style: LengthStyle) -> list[StencilArt]:
    """Ways to print less of the face, the gentlest first."""
    step = 3.175 if style.unit == "in" else 1.0
    return [cropped(art, around, axes, step) for around in (12.0, 4.0, 1.5) for axes in ("u", "v", "uv")]


def _page(packed: Sheet, whole: Sequence[tuple[StencilArt, list[Block]]], sheet: _Paper) -> StencilPage:
    spots = sorted(packed.spots, key=lambda spot: spot.item)
    arts = [whole[spot.item][0] for spot in spots]
    blocks = [whole[spot.item][1][spot.shape] for spot in spots]
    m, (width, height) = sheet.margin, sheet.body
    alone = len(spots) == 1
    indent = (width - blocks[0].width) / 2 if alone and _square_below(blocks[0], height) else 0.0
    marks: list[Mark] = []
    for spot, block in zip(spots, blocks, strict=True):
        marks += moved(block.marks, m + spot.x + indent, m + spot.y)
        if not alone:
            marks += _cutting_lines(block, m + spot.x, m + spot.y, sheet)
    free = [(0.0, blocks[0].height + GAP, width + GAP, height + GAP)] if indent else packed.free
    marks += _square(free, sheet)
    marks += _foot(marks, sheet, width - BARS_WIDTH - 5.0)
    titles = ", ".join(dict.fromkeys(art.title for art in arts))
    alt = " ".join(sheet.words.alt.format(number=art.number, total=art.total, title=art.title) for art in arts)
    picture = Picture(sheet.width, sheet.height, tuple(marks), alt)
    return StencilPage(picture, "single" if alone else "shared", tuple(a.number for a in arts), None, titles)


def _square_below(block: Block, height: float) -> bool:
    return height - block.height - GAP >= SQUARE_HEIGHT


def _cutting_lines(block: Block, x: float, y: float, sheet: _Paper) -> list[Mark]:
    """Hair lines halfway between neighbours on a shared page, to cut the papers apart."""
    (width, height), m, half = sheet.body, sheet.margin, GAP / 2
    marks: list[Mark] = []
    right, low = x + block.width + half, y + block.height + half
    if right < m + width - half:
        marks.append(Stroke(((right, y), (right, min(low, m + height))), FRAME, "frame"))
    if low < m + height - half:
        marks.append(Stroke(((x, low), (min(right, m + width), low)), FRAME, "frame"))
    return marks


def _square(free: Sequence[Rect], sheet: _Paper) -> tuple[Mark, ...]:
    """The check squares in the lowest free rectangle that holds them; none where all are too small."""
    fits = []
    for left, top, right, bottom in free:
        right, bottom = right - GAP, bottom - GAP
        if right - left >= SQUARE_IN + 1 and bottom - top >= SQUARE_HEIGHT:
            fits.append((bottom, right))
    if not fits:
        return ()
    bottom, right = max(fits)
    m = sheet.margin
    return check_square((m + right - SQUARE_IN - 0.2, m + bottom - SQUARE_HEIGHT + 2.6), sheet.words)


def _foot(drawn: Sequence[Mark], sheet: _Paper, width: float) -> tuple[Mark, ...]:
    """Bars, the sentence about them, and the key of the lines that are on the page."""
    x, y = sheet.margin, sheet.height - sheet.margin - BARS_HEIGHT
    beside = x + BARS_WIDTH + 5.0
    said = instruction((x, y - SAID), BARS_WIDTH, sheet.words)
    rows = int((BARS_HEIGHT + SAID) / 4.1)
    return (*said, *check_bars((x, y)), *key((beside, y - SAID), width, rows, layers_of(drawn), sheet.words))


def _tiles(art: StencilArt, sheet: _Paper) -> list[StencilPage]:
    """A stencil in the fewest tiles: whole or cropped, upright or turned, whichever takes fewer."""
    ways = [laid(each, turned) for each in (art, cropped(art, 12.0)) for turned in (False, True)]
    needed = [math.prod(counts(way.bounds, sheet.tile)) for way in ways]
    near = [way for way, n in zip(ways, needed, strict=True) if n <= min(2 * min(needed), MOST_TILES)]
    grids = [(grid_of(way, sheet.tile), way) for way in near or [ways[needed.index(min(needed))]]]
    grid, way = min(grids, key=lambda pair: len(pair[0].tiles))
    return _tile_pages(way, grid, sheet)


def _tile_pages(paper: Laid, grid: Grid, sheet: _Paper) -> list[StencilPage]:
    room = lone_areas(grid.tiles)
    figure = draw_figure(paper, sheet.words, sheet.style, room=room, beside=False)
    matches = joins(grid, paper)
    return [_tile_page(paper, grid, tile, figure, matches, sheet) for tile in grid.tiles]


def _tile_page(
    paper: Laid,
    grid: Grid,
    tile: Tile,
    figure: Figure,
    matches: Sequence[Join],
    sheet: _Paper,
) -> StencilPage:
    art, m = paper.art, sheet.margin
    drawn = list(cut_to(figure.marks, tile))
    drawn += [mark for join in matches if tile in (join.first, join.second) for mark in match_marks(join)]
    drawn += _tile_square(paper, tile, sheet)
    under, over = frame_marks(tile, grid, paper, drawn, sheet.words)
    placed = moved((*under, *drawn, *over), m - tile.box[0], m + HEAD - tile.box[1])
    foot = _foot(drawn, sheet, sheet.body[0] - BARS_WIDTH - _MAP[0] - 8.0)
    at = (sheet.width - m - _MAP[0], sheet.height - m - _MAP[1])
    marks = (
        *_tile_head(paper, grid, tile, figure.notes, sheet),
        *placed,
        *foot,
        *map_marks(paper, grid, tile, at, _MAP),
    )
    alt = sheet.words.alt_tile.format(number=art.number, total=art.total, title=art.title, name=tile.name)
    where = (tile.row + 1, tile.column + 1)
    return StencilPage(Picture(sheet.width, sheet.height, marks, alt), "tile", (art.number,), where, art.title)


def _tile_square(paper: Laid, tile: Tile, sheet: _Paper) -> tuple[Mark, ...]:
    """The check squares on the empty part of a tile, where there is one."""
    left, top, right, bottom = tile.box
    inner = box(left, top, right - left, bottom - top).offset(-OVERLAP - 1.0)
    used = [paper.face, *ink_bands(paper, 3.0)]
    spot = find_room(inner.minus(*used), rectangle((0, 0), SQUARE_IN + 1, SQUARE_HEIGHT), (right, bottom))
    if spot is None:
        return ()
    return check_square((spot[0] - SQUARE_IN / 2, spot[1] - SQUARE_HEIGHT / 2 + 2.6), sheet.words)


def _tile_head(paper: Laid, grid: Grid, tile: Tile, notes: Sequence[str], sheet: _Paper) -> tuple[Mark, ...]:
    """Number, title and tile in one line, where it is stuck in the next."""
    art, m, right = paper.art, sheet.margin, sheet.width - sheet.margin
    tag, taken = number_tag(art, sheet.words)
    number = grid.tiles.index(tile) + 1
    name = sheet.words.tile.format(name=tile.name, number=number, count=len(grid.tiles))
    title = cut_short(art.title, 4.2, sheet.body[0] - taken - width_of(name, BODY, bold=True) - 6, bold=True)
    second = " ".join((short_where(art, sheet.words, 1e9), *notes))
    return (
        *moved(tag, m, m),
        Words((m + taken + 2.5, m + 4.4), title, 4.2, bold=True, layer="words"),
        Words((right, m + 4.4), name, BODY, "end", bold=True, layer="words"),
        Words((m, m + 9.4), cut_short(second, SMALL, sheet.body[0]), SMALL, layer="words"),
    )
