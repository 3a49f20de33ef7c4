"""Draws one board, bar or sheet with the parts to cut from it, to scale and lying along the page; it decides no cut."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import cos, pi, sin
from typing import Literal

from planbook.drawing.cut_labels import GAP, NAME, SIZE, Box, Label, label_in, numbered, sign_of, spot_for
from planbook.drawing.ink import CREAM, LINE, QUIET, Ink, base, hexed
from planbook.drawing.lettering import RISE, width_of
from planbook.drawing.marks import Fill, Mark, Pen, Picture, Point, Ring, Stroke, Words
from planbook.solids.hatch import hatching
from planbook.speech import say

ROUND = 1.75
"""Radius of the ring round the number of a cut, mm."""
NUMBER = 2.3
MARGIN = 2 * ROUND + 1.6
"""Room round the board for the numbers of cuts, mm."""
HATCH = 2.2
HATCH_PEN = Pen(0.09, QUIET)
KNOT_PEN = Pen(0.18, LINE)
EDGE = Pen(0.35, LINE)
PART = Pen(0.18, LINE)
KEPT = Pen(0.25, LINE, (1.6, 0.9))
CUT = Pen(0.35, LINE)
RING = Pen(0.18, LINE)
LEAD = Pen(0.12, LINE)
MOST_CUTS = 14
"""With more cuts than this, names and numbers would stand in each other's way."""
NEAR = 1.5
"""A cut that ends this close to the edge of the board, in mm of paper, runs out of it."""
GRAIN = 14.0
LARGEST = 1 / 6
"""No board is drawn larger than this many times its size: two small ones share a page."""


@dataclass(frozen=True, slots=True)
class CutPart:
    """A part as it lies on the board, in mm: x along the board, y across it; with its name and size in words."""

    x: float
    y: float
    length: float
    width: float
    name: str
    size: str


@dataclass(frozen=True, slots=True)
class CutLine:
    """A cut by its number: the middle of its kerf, `along` the board (a rip) or across it, from `start` to `end`."""

    number: int
    way: Literal["rip", "crosscut"]
    at: float
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class CutBoard:
    """A board, bar or sheet in mm with what is cut from it; `kept` are offcuts worth keeping, `defects` to avoid."""

    length: float
    width: float
    wood: str
    parts: tuple[CutPart, ...]
    cuts: tuple[CutLine, ...]
    kept: tuple[CutPart, ...] = ()
    defects: tuple[CutPart, ...] = ()
    grain: str = ""
    alt: str = ""


def cut_pictures(board: CutBoard, width_mm: float, height_mm: float, ink: Ink = "colour") -> tuple[Picture, ...]:
    """The board as large as the room allows; what is neither a part nor kept is hatched as waste.

    Where there are many cuts, their numbers get a picture of their own after the one with the names.
    """
    room = (width_mm, height_mm)
    if len(board.cuts) <= MOST_CUTS:
        return (_picture(board, room, ink, board.alt),)
    names = replace(board, cuts=())
    return (
        _picture(names, room, ink, f"{board.alt} {say('Here with their names.')}"),
        _picture(board, room, ink, f"{board.alt} {say('Here with the numbers of the cuts.')}", named=False),
    )


def _picture(board: CutBoard, room: tuple[float, float], ink: Ink, alt: str, *, named: bool = True) -> Picture:
    width_mm, height_mm = room
    head = NAME * 1.8 if board.grain else 0.0
    scale = min(
        LARGEST,
        (width_mm - 2 * MARGIN) / board.length,
        (height_mm - 2 * MARGIN - head) / board.width,
    )
    put = _Put(scale, MARGIN, MARGIN + head)
    marks: list[Mark] = [*_waste(board, put)]
    labels: list[Label] = []
    keyed: list[str] = []
    fills = [(part, _tint(board.wood, ink), PART, "part") for part in board.parts]
    fills += [(part, "#ffffff", KEPT, "offcut") for part in board.kept]
    for part, colour, pen, layer in fills:
        box = put.box(part)
        marks += [Fill((box.ring,), colour, layer), Stroke(box.ring, pen, layer, closed=True)]
        if named:
            labels.append(_label(part, box, keyed))
    for spot in board.defects:
        box = put.box(spot)
        marks += [Fill((box.ring,), "#ffffff", "defect"), *_crossed(box)]
    marks.append(Stroke(put.frame(board), EDGE, "board", closed=True))
    marks += [mark for label in labels for mark in label.marks]
    marks += _cuts(board, put, [label.box for label in labels])
    if board.grain:
        marks += _grain(board.grain, put)
    bottom = MARGIN + head + board.width * scale + MARGIN
    under, lines = numbered(keyed, bottom, width_mm)
    return Picture(width_mm, round(bottom + lines, 2), (*marks, *under), alt)


@dataclass(frozen=True, slots=True)
class _Put:
    """Where the board lies on paper: `scale` mm of paper for one of board, its corner at (`x`, `y`)."""

    scale: float
    x: float
    y: float

    def box(self, part: CutPart) -> Box:
        left, top = self.point((part.x, part.y))
        return Box(left, top, left + part.length * self.scale, top + part.width * self.scale)

    def point(self, at: Point) -> Point:
        return self.x + at[0] * self.scale, self.y + at[1] * self.scale

    def frame(self, board: CutBoard) -> Ring:
        corners = ((0.0, 0.0), (board.length, 0.0), (board.length, board.width), (0.0, board.width))
        return tuple(self.point(corner) for corner in corners)


def _tint(name: str, ink: Ink) -> str:
    """The wood's own colour, pale enough to write on."""
    if ink == "black":
        return "#ffffff"
    return hexed(tuple(0.42 * a + 0.58 * b for a, b in zip(base(name, "worked", ink), CREAM, strict=True)))


def _waste(board: CutBoard, put: _Put) -> Iterable[Mark]:
    ring = put.frame(board)
    yield Fill((ring,), "#ffffff", "waste")
    for line in hatching([(ring, ())], HATCH):
        yield Stroke(line, HATCH_PEN, "waste")


def _crossed(box: Box) -> Iterable[Mark]:
    for degrees in (45.0, -45.0):
        for line in hatching([(box.ring, ())], 1.0, degrees):
            yield Stroke(line, KNOT_PEN, "defect")
    yield Stroke(box.ring, KNOT_PEN, "defect", closed=True)


def _label(part: CutPart, box: Box, keyed: list[str]) -> Label:
    """The name and size of a part inside it; where there is no room, a letter that is explained below."""
    label = label_in(box, part.name, part.size)
    if label is not None:
        return label
    text = f"{part.name}, {part.size}"
    if text not in keyed:
        keyed.append(text)
    sign = sign_of(keyed.index(text))
    size = min(SIZE, 0.8 * min(box.right - box.left, box.bottom - box.top))
    x, y = box.middle
    words = Words((x, y + RISE * size), sign, size, "middle", bold=True, layer="label")
    return Label((words,), Box(x - size / 2, y - size / 2, x + size / 2, y + size / 2))


def _cuts(board: CutBoard, put: _Put, taken: Sequence[Box]) -> Iterable[Mark]:
    """The lines of the cuts, and their numbers where there is room for them."""
    used = list(taken)
    rings: list[Mark] = []
    frame = put.frame(board)
    edge = Box(*frame[0], *frame[2])
    for cut in board.cuts:
        along = (
            ((cut.start, cut.at), (cut.end, cut.at)) if cut.way == "rip" else ((cut.at, cut.start), (cut.at, cut.end))
        )
        ends = (put.point(along[0]), put.point(along[1]))
        yield Stroke(ends, CUT, "cut")
        spot = spot_for(ends, edge, ROUND, NEAR, used)
        x, y = spot.at
        used.append(Box(x - ROUND, y - ROUND, x + ROUND, y + ROUND))
        if spot.leads_to:
            rings.append(Stroke((spot.at, spot.leads_to), LEAD, "leader"))
        rings += _ring(spot.at, cut.number)
    yield from rings


def _ring(at: Point, number: int) -> Iterable[Mark]:
    ring = tuple((at[0] + ROUND * cos(k * pi / 12), at[1] + ROUND * sin(k * pi / 12)) for k in range(24))
    size = NUMBER if number < 100 else NUMBER * 0.75
    yield Fill((ring,), "#ffffff", "number")
    yield Stroke(ring, RING, "number", closed=True)
    yield Words((at[0], at[1] + RISE * size), str(number), size, "middle", bold=True, layer="number")


def _grain(word: str, put: _Put) -> Iterable[Mark]:
    """An arrow along the grain, above the board."""
    y, x = MARGIN - 2.2 + NAME * 0.5, put.x
    yield Words((x, y + RISE * SIZE), word, SIZE, layer="grain")
    start = x + width_of(word, SIZE) + GAP
    yield Stroke(((start, y), (start + GRAIN, y)), PART, "grain")
    for tip, way in ((start, 1.0), (start + GRAIN, -1.0)):
        yield Stroke(((tip + 1.5 * way, y - 0.7), (tip, y), (tip + 1.5 * way, y + 0.7)), PART, "grain")
