"""Lays stencils on pages of true size: alone, several to a page, or in tiles; draws no lines itself."""

from collections.abc import Sequence
from dataclasses import replace

from planbook.drawing.correction import UNCORRECTED, Correction
from planbook.drawing.marks import Mark, Picture, Stroke, Words, moved
from planbook.drawing.sheet_block import Block, block_of, copies_of
from planbook.drawing.sheet_check import SQUARE_HEIGHT, SQUARE_IN, check_square
from planbook.drawing.sheet_pack import Rect, Sheet, pack
from planbook.drawing.sheet_paper import (
    A3,
    A4,
    LETTER,
    MARGIN,
    TABLOID,
    Kind,
    PaperTooSmall,
    SheetPaper,
    StencilPage,
    foot,
)
from planbook.drawing.sheet_upright import upright_bars
from planbook.drawing.stencil_art import Box, StencilArt, cropped, laid
from planbook.drawing.stencil_pens import FRAME
from planbook.drawing.stencil_room import words_box
from planbook.drawing.stencil_words import StencilWords, cut_short
from planbook.drawing.tiles_grid import TooManyTiles
from planbook.drawing.tiles_pages import tile_pages
from planbook.solids import Area, Path
from planbook.solids.plane import box
from planbook.units import LengthStyle

__all__ = [
    "A3",
    "A4",
    "LETTER",
    "MARGIN",
    "TABLOID",
    "PaperTooSmall",
    "StencilPage",
    "TooManyTiles",
    "stencil_pages",
]

GAP = 9.0
"""Clear space between stencils that share a page, mm."""
_PLAN = 2.1
"""Type size of what says of which plan a paper is, mm."""
_MOST = 8
"""No more copies of a stencil than this are put on one page."""
_WIDEST = 280.0
"""On wider paper a stencil alone on its page is centred in so many mm, so that it stays with its caption."""


_Whole = tuple[StencilArt, list[Block]]
"""A stencil that fits a page whole, and the ways in which it does."""


def stencil_pages(
    arts: Sequence[StencilArt],
    paper: tuple[float, float],
    margin_mm: float,
    words: StencilWords,
    style: LengthStyle,
    correction: Correction = UNCORRECTED,
    plan: str = "",
) -> tuple[StencilPage, ...]:
    """Every stencil on the fewest pages of a paper (width, height in mm), in the order of their numbers.

    Where papers are cut apart, each says of which `plan` it is; the layouts say it under the bars of every page.
    One that fits no page is cropped to its work and, if need be, tiled. With a correction, the pages are laid out
    as they come out of that printer and stretched against it.
    Raises TooManyTiles and PaperTooSmall.
    """
    if correction.needed:
        words = replace(words, check=_corrected(words, correction))
    sheet = SheetPaper(*correction.sheet(paper), margin_mm, words, style).checked()
    whole: list[_Whole] = []
    tiled: list[StencilPage] = []
    for art in arts:
        blocks = stencil_blocks(art, sheet)
        if blocks:
            whole.append((art, blocks))
        else:
            tiled.extend(tile_pages(art, sheet))
    packed = (_with_copies(one, whole, sheet) for one in _packed(whole, sheet))
    pages = [_page(*one, sheet, plan) for one in packed] + tiled
    pages.sort(key=lambda page: min(page.numbers))
    return tuple(_printed(page, paper, correction) for page in pages) if correction.needed else tuple(pages)


def _packed(whole: Sequence[_Whole], sheet: SheetPaper) -> list[Sheet]:
    shapes = [[(block.width, block.height) for block in blocks] for _, blocks in whole]
    return pack(shapes, sheet.body, GAP, spare=(SQUARE_IN + 1, SQUARE_HEIGHT))


def _with_copies(packed: Sheet, whole: Sequence[_Whole], sheet: SheetPaper) -> tuple[Sheet, Sequence[_Whole]]:
    """A page and what is on it: as often as it is needed, each for one piece, where there is room for that."""
    mine = [whole[item] for item in sorted(spot.item for spot in packed.spots)]
    found: tuple[Sheet, Sequence[_Whole]] = (packed, whole)
    for art, blocks in list(mine):
        at = mine.index((art, blocks))
        room = sheet.body[0] * sheet.body[1] / min(block.width * block.height for block in blocks)
        if not 1 < copies_of(art) <= min(room, _MOST):
            continue
        single = [replace(art, pieces=(piece,)) for piece in art.pieces]
        every = [*mine[:at], *((one, stencil_blocks(one, sheet)) for one in single), *mine[at + 1 :]]
        pages = _packed(every, sheet)
        if len(pages) == 1:
            mine, found = every, (pages[0], every)
    return found


def _corrected(words: StencilWords, correction: Correction) -> str:
    return words.corrected.format(across=f"{correction.across:.4g}", along=f"{correction.along:.4g}")


def _printed(page: StencilPage, paper: tuple[float, float], correction: Correction) -> StencilPage:
    """A page in true millimetres as it is sent to the printer."""
    return replace(page, picture=Picture(*paper, correction.applied(page.picture.marks), page.picture.alt))


def stencil_blocks(art: StencilArt, sheet: SheetPaper) -> list[Block]:
    """The stencil in the ways in which it fits a page: upright, turned; cropped only if nothing else fits."""
    width, height = sheet.body
    for each in (art, *_crops(art, sheet.style)):
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


def _crops(art: StencilArt, style: LengthStyle) -> list[StencilArt]:
    """Ways to print less of the face, the gentlest first."""
    step = 3.175 if style.unit == "in" else 1.0
    return [cropped(art, around, axes, step) for around in (12.0, 4.0, 1.5) for axes in ("u", "v", "uv")]


def _page(packed: Sheet, whole: Sequence[_Whole], sheet: SheetPaper, plan: str) -> StencilPage:
    spots = sorted(packed.spots, key=lambda spot: spot.item)
    arts = [whole[spot.item][0] for spot in spots]
    blocks = [whole[spot.item][1][spot.shape] for spot in spots]
    m, (width, height) = sheet.margin, sheet.body
    alone, free = len(spots) == 1, packed.free
    if alone and (_square_below(blocks[0], height) or not _square(free, sheet)):
        blocks = [blocks[0].widened(min(width, max(blocks[0].width, _WIDEST)))]
        free = [(0.0, blocks[0].height + GAP, width + GAP, height + GAP)]
    marks: list[Mark] = []
    for spot, block in zip(spots, blocks, strict=True):
        marks += moved(block.marks, m + spot.x, m + spot.y)
        if not alone:
            marks += _cutting_lines(block, m + spot.x, m + spot.y, sheet, plan)
    marks += _square(free, sheet) or _upright(packed, blocks, marks, sheet)
    marks += foot(marks, sheet)
    titles = ", ".join(dict.fromkeys(art.title for art in arts))
    numbers = {art.number: art.title for art in arts}
    alt = " ".join(sheet.words.alt.format(number=n, total=arts[0].total, title=title) for n, title in numbers.items())
    picture = Picture(sheet.width, sheet.height, tuple(marks), alt)
    kind: Kind = "single" if alone else "shared"
    return StencilPage(picture, kind, tuple(numbers), None, titles, max(map(copies_of, arts)))


def _upright(packed: Sheet, blocks: Sequence[Block], drawn: Sequence[Mark], sheet: SheetPaper) -> tuple[Mark, ...]:
    """Upright bars beside the stencils of a page, else on bare wood of one of them."""
    m, (width, height) = sheet.margin, sheet.body
    spots = sorted(packed.spots, key=lambda spot: spot.item)
    faces = [block.bare.moved(m + spot.x, m + spot.y).offset(-2.0) for spot, block in zip(spots, blocks, strict=True)]
    taken = [_off(block.exact, m + spot.x, m + spot.y) for spot, block in zip(spots, blocks, strict=True)]
    taken += [words_box(mark).offset(1.0) for mark in drawn if isinstance(mark, Words)]
    taken += [Path(mark.points).band(2.0) for mark in drawn if isinstance(mark, Stroke) and mark.layer == "apart"]
    beside = box(m, m, width, height).minus(*taken)
    return upright_bars((beside, *faces), (m + width, m + height))


def _off(frame: Box, x: float, y: float) -> Area:
    left, top, right, bottom = frame
    return box(left + x, top + y, right - left, bottom - top).offset(2.0)


def _square_below(block: Block, height: float) -> bool:
    return height - block.height - GAP >= SQUARE_HEIGHT


def _cutting_lines(block: Block, x: float, y: float, sheet: SheetPaper, plan: str) -> list[Mark]:
    """Hair lines halfway between neighbours on a shared page, to cut the papers apart, and of which plan they are."""
    (width, height), m, half = sheet.body, sheet.margin, GAP / 2
    marks: list[Mark] = []
    right, low = x + block.width + half, y + block.height + half
    if right < m + width - half:
        marks.append(Stroke(((right, y), (right, min(low, m + height))), FRAME, "apart"))
    if low < m + height - half:
        marks.append(Stroke(((x, low), (min(right, m + width), low)), FRAME, "apart"))
    if plan and low < m + height:
        marks.append(Words((x, low - 1.1), cut_short(plan, _PLAN, block.width), _PLAN, layer="words"))
    return marks


def _square(free: Sequence[Rect], sheet: SheetPaper) -> tuple[Mark, ...]:
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
