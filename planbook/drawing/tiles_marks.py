"""The marks of one tile: the drawing cut to it, marks that match its neighbours, its border; not its small map."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Fill, Mark, Point, Ring, Stroke, Words
from planbook.drawing.stencil_art import Box, Laid, cut_strip, joined_boxes
from planbook.drawing.stencil_figure import ink_bands, mark_box
from planbook.drawing.stencil_lines import TICK_LENGTH, fills
from planbook.drawing.stencil_pens import FRAME, INK, SMALL, TAB, THIN, TRIM
from planbook.drawing.stencil_room import Label, rectangle, words_box
from planbook.drawing.stencil_words import StencilWords, lines_of
from planbook.drawing.tiles_grid import OVERLAP, Grid, Tile
from planbook.solids import Area, Path, Point2
from planbook.solids.plane import box

_SIZE = 2.4
_HALF = 3.0
_CLEAR = 0.7
"""Words on a tab or at a border stand on bare paper so far around, mm: no tint, no hatching."""
_STEP, _LINES = 1.0, 3
"""Such words are tried every so many mm, and in so many lines at most: an overlap is wide enough for them."""
_LONG = 16.0
_ROOM = (9.0, _LONG)
"""Length of a match mark with the names of its two tiles, and the room it takes where it stands upright, mm."""


@dataclass(frozen=True, slots=True)
class Join:
    """A match mark: its middle, the two tiles it is on, and whether their overlap stands upright."""

    spot: Point
    first: Tile
    second: Tile
    upright: bool


def cut_to(marks: Iterable[Mark], tile: Tile) -> tuple[Mark, ...]:
    """The marks that lie on a tile; lines and tints are cut at its edge, words are on it wholly or not."""
    area = tile.area
    return tuple(kept for mark in marks for kept in _cut(mark, tile.box, area))


def _cut(mark: Mark, frame: Box, area: Area) -> Iterator[Mark]:
    left, top, right, bottom = mark_box(mark)
    if left >= frame[0] and top >= frame[1] and right <= frame[2] and bottom <= frame[3]:
        yield mark
    elif right < frame[0] or bottom < frame[1] or left > frame[2] or top > frame[3] or isinstance(mark, Words):
        return
    elif isinstance(mark, Stroke):
        points = (*mark.points, mark.points[0]) if mark.closed else mark.points
        for run in Path(points).inside(area):
            yield Stroke(run.points, mark.pen, mark.layer)
    else:
        cut = _filled(mark.rings).meet(area)
        if not cut.empty:
            yield Fill(cut.rings, mark.colour, mark.layer, mark.opacity)


def _filled(rings: tuple[Ring, ...]) -> Area:
    """The area of rings by the even-odd rule, where no two rings cross."""
    areas = sorted((Area.of(ring) for ring in rings), key=lambda area: -area.size)
    whole = areas[0]
    for area in areas[1:]:
        whole = whole.minus(area) if whole.holds(area.middle) else whole.plus(area)
    return whole


def joins(grid: Grid, paper: Laid) -> tuple[Join, ...]:
    """Where match marks stand: two in the overlap of each pair of neighbours, clear of lines if possible."""
    ink = [band for band in (*ink_bands(paper, 0.8), *_fringes(paper)) if not band.empty]
    taken = ink[0].plus(*ink[1:]) if ink else None
    found = []
    for tile in grid.tiles:
        for rows, columns in ((0, 1), (1, 0)):
            other = grid.beside(tile, rows, columns)
            if other is not None:
                upright = columns == 1
                found += [Join(spot, tile, other, upright) for spot in _spots(tile, other, upright, taken)]
    return tuple(found)


def _fringes(paper: Laid) -> list[Area]:
    """Where the ticks of saw cuts stand."""
    return [cut_strip(line, TICK_LENGTH + 0.4) for line in paper.lines if line.use == "cut"]


def _spots(tile: Tile, other: Tile, upright: bool, taken: Area | None) -> Iterator[Point2]:
    left, top = max(tile.box[0], other.box[0]), max(tile.box[1], other.box[1])
    right, bottom = min(tile.box[2], other.box[2]), min(tile.box[3], other.box[3])
    middle = ((left + right) / 2, (top + bottom) / 2)
    start, end = (top, bottom) if upright else (left, right)
    for share, way in ((0.2, 1), (0.8, -1)):
        wanted = start + share * (end - start)
        # Towards the middle there is more room to look than towards the corner of the tile.
        inwards, outwards = int((end - start) * 0.25), int((end - start) * 0.2 - _LONG / 2 - 1)
        shifts = sorted((float(way * s) for s in range(-(outwards // 2) * 2, inwards + 1, 2)), key=abs)
        spots = [(middle[0], wanted + s) if upright else (wanted + s, middle[1]) for s in shifts]
        # With its two names if there is room for them, else at least the diamond itself.
        rooms = (_ROOM if upright else _ROOM[::-1], (9.0, 9.0))
        clear = (s for room in rooms for s in spots if taken is None or not rectangle(s, *room).touches(taken))
        yield next(clear, spots[0])


def match_marks(join: Join) -> tuple[Mark, ...]:
    """A diamond with a cross, half of it dark, between the names of the two tiles; alike on both."""
    (x, y), first, second = join.spot, join.first, join.second
    away, base = _HALF + 1.8, 0.34 * _SIZE
    if join.upright:
        names = (
            Words((x, y - away - 0.2), first.name, _SIZE, "middle", layer="match"),
            Words((x, y + away + 0.7 * _SIZE), second.name, _SIZE, "middle", layer="match"),
        )
    else:
        names = (
            Words((x - away, y + base), first.name, _SIZE, "end", layer="match"),
            Words((x + away, y + base), second.name, _SIZE, layer="match"),
        )
    return (*diamond(join.spot, _HALF), *names)


def diamond(middle: Point, half: float) -> tuple[Mark, ...]:
    """A diamond with a cross, half of it dark, `half` mm from its middle to its corners."""
    x, y = middle
    rim = ((x, y - half), (x + half, y), (x, y + half), (x - half, y))
    dark = (((x, y), (x, y - half), (x + half, y)), ((x, y), (x, y + half), (x - half, y)))
    return (
        Fill(dark, INK, "match"),
        Stroke(rim, THIN, "match", closed=True),
        Stroke(((x - half - 1, y), (x + half + 1, y)), THIN, "match"),
        Stroke(((x, y - half - 1), (x, y + half + 1)), THIN, "match"),
    )


def frame_marks(
    tile: Tile, grid: Grid, paper: Laid, drawn: Iterable[Mark], words: StencilWords
) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
    """Tints of the glue tabs (to lie under the drawing), and the tile's border with the words along it."""
    left, top, right, bottom = tile.box
    taken = [words_box(mark).offset(0.6) for mark in drawn if isinstance(mark, Words)]
    taken += [box(b[0], b[1], b[2] - b[0], b[3] - b[1]).offset(0.6) for b in _match_boxes(drawn)]
    taken += [*ink_bands(paper, 0.6), *_fringes(paper)]
    hatched = [region.area for region in paper.regions if region.waste]
    under: list[Mark] = []
    over: list[Mark] = []
    sides = {
        (0, 1): (((right, top), (right, bottom)), (right - OVERLAP, top, right, bottom)),
        (1, 0): (((left, bottom), (right, bottom)), (left, bottom - OVERLAP, right, bottom)),
        (0, -1): (((left, top), (left, bottom)), (left, top, left + OVERLAP, bottom)),
        (-1, 0): (((left, top), (right, top)), (left, top, right, top + OVERLAP)),
    }
    for (rows, columns), (ends, strip) in sides.items():
        other = grid.beside(tile, rows, columns)
        tab = rows + columns > 0
        joined = other is not None and not tab
        over.append(Stroke(ends, TRIM, "trim") if joined else Stroke(ends, FRAME, "tile"))
        if other is not None:
            text = (words.tab if tab else words.trim).format(name=other.name)
            said = _along(strip, text, columns != 0, taken, hatched)
            over += said
            if tab:
                tint = Area.of(_ring(strip)).minus(*(words_box(mark).offset(_CLEAR) for mark in said))
                under += fills(tint, TAB, "frame")
    return tuple(under), tuple(over)


def unhatched(drawn: Iterable[Mark], over: Iterable[Mark], matches: Iterable[Join], tile: Tile) -> tuple[Mark, ...]:
    """The drawing without the hatching of waste under match marks and under the words and bars that lie over it."""
    taken = [words_box(mark).offset(_CLEAR) for mark in over if isinstance(mark, Words)]
    bars = [mark_box(mark) for mark in over if mark.layer == "check"]
    if bars:
        left, top, right, bottom = joined_boxes(bars)
        taken.append(box(left, top, right - left, bottom - top).offset(_CLEAR))
    taken += [rectangle(join.spot, *(_ROOM if join.upright else _ROOM[::-1])) for join in matches]
    free, boxes = tile.area.minus(*taken) if taken else tile.area, [area.bounds for area in taken]
    found: list[Mark] = []
    for mark in drawn:
        if isinstance(mark, Stroke) and mark.layer == "waste" and any(_meet(mark_box(mark), each) for each in boxes):
            found += [Stroke(run.points, mark.pen, mark.layer) for run in Path(mark.points).inside(free)]
        else:
            found.append(mark)
    return tuple(found)


def _meet(one: Box, two: Box) -> bool:
    return one[0] <= two[2] and two[0] <= one[2] and one[1] <= two[3] and two[1] <= one[3]


def _match_boxes(drawn: Iterable[Mark]) -> Iterator[Box]:
    return (mark_box(mark) for mark in drawn if mark.layer == "match" and isinstance(mark, Stroke))


def _along(strip: Box, text: str, upright: bool, taken: list[Area], hatched: list[Area]) -> tuple[Words, ...]:
    """Words along a strip, as near to its middle as nothing is crossed: in one line or more, on hatching if need be.

    None where there is no such place.
    """
    left, top, right, bottom = strip
    whole = Area.of(_ring(strip))
    free = whole.minus(*taken) if taken else whole
    bare = free.minus(*hatched) if hatched else free
    middle = ((left + right) / 2, (top + bottom) / 2)
    for label in _labels(text, upright):
        shape = rectangle((0.0, 0.0), label.width + 1.0, label.height + 0.6)
        along = ((bottom - top) - label.height if upright else (right - left) - label.width) / 2 - 1
        shifts = [sign * _STEP * k for k in range(int(max(along, 0) // _STEP) + 1) for sign in (1, -1)]
        spots = [(middle[0], middle[1] + shift) if upright else (middle[0] + shift, middle[1]) for shift in shifts]
        for area in (bare, free):
            fits = [] if area.empty else area.takes(shape, spots)
            found = next((spot for spot, fit in zip(spots, fits, strict=False) if fit), None)
            if found is not None:
                return label.words(found, layer="frame")
    return ()


def _labels(text: str, upright: bool) -> Iterator[Label]:
    """A text in one line, then in as many as a strip is wide enough for, each as short as can be."""
    whole, before = width_of(text, SMALL), 0
    for most in range(1, _LINES + 1):
        widths = (whole * (1 / most + share / 20) for share in range(20))
        lines = next((each for each in (lines_of(text, SMALL, width) for width in widths) if len(each) <= most), ())
        if len(lines) > before:
            before = len(lines)
            yield Label(lines, SMALL, upright=upright)


def _ring(frame: Box) -> Ring:
    left, top, right, bottom = frame
    return ((left, top), (right, top), (right, bottom), (left, bottom))
