"""One stencil drawn at true size with its words, in the coordinates it is laid in; not a page."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Fill, Mark, Point, Stroke, Words
from planbook.drawing.stencil_art import (
    ArtHole,
    ArtRegion,
    Box,
    Laid,
    cut_strip,
    joined_boxes,
    runs_of,
    saw_line,
)
from planbook.drawing.stencil_lines import TICK_LENGTH, cross_reach, hatch, line_marks
from planbook.drawing.stencil_pens import BODY, SMALL
from planbook.drawing.stencil_room import CLEAR, Label, find_room, rectangle
from planbook.drawing.stencil_signs import Sign, end_grain_sign, entry_arrows, grain_sign, leader, up_sign
from planbook.drawing.stencil_words import StencilWords, broken, plain
from planbook.solids import Area, Path
from planbook.solids.plane import box
from planbook.units import LengthStyle, is_exact, show_length, to_mm_text

_SIZES = (3.6, 3.2, SMALL)
_TAGGED_FROM = 7
"""From this many holes on, holes get letters that are explained once."""
_FAR = 45.0
_COLUMN = 38.0


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawn stencil. `exact` is the box of its lines, `bounds` that of its words too; `notes` go in its caption."""

    marks: tuple[Mark, ...]
    exact: Box
    bounds: Box
    notes: tuple[str, ...]


@dataclass
class _Desk:
    """What changes while words find their places."""

    paper: Laid
    words: StencilWords
    style: LengthStyle
    free: Area
    beside: bool
    marks: list[Mark] = field(default_factory=list)
    boxes: list[Area] = field(default_factory=list)
    column: list[tuple[Label, Point, bool]] = field(default_factory=list)
    row: list[Sign] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def put(self, shape: Area, marks: Iterable[Mark]) -> None:
        """Takes the room of a thing and keeps its marks."""
        self.boxes.append(shape)
        self.free = self.free.minus(shape)
        self.marks.extend(marks)

    def label(self, label: Label, near: Point, within: float = math.inf, area: Area | None = None) -> bool:
        """Puts words near a point if there is room."""
        shape = rectangle((0, 0), label.width + 2 * CLEAR, label.height + 2 * CLEAR)
        spot = find_room(self.free if area is None else self.free.meet(area), shape, near, within)
        if spot is None:
            return False
        self.put(shape.moved(*spot), label.words(spot))
        return True

    def led(self, label: Label, target: Point, dot: bool) -> None:
        """Words away from what they name, with a leader: beside the stencil, or where there is room on it."""
        if self.beside:
            self.column.append((label, target, dot))
            return
        shape = rectangle((0, 0), label.width + 2 * CLEAR, label.height + 2 * CLEAR)
        spot = find_room(self.free, shape, target)
        if spot is None:
            self.notes.append(self.words.also.format(names=" ".join(label.lines)))
            return
        side = 1 if target[0] > spot[0] else -1
        end = (spot[0] + side * (label.width / 2 + 0.4), spot[1])
        self.put(shape.moved(*spot), (*leader(target, end, dot), *label.words(spot)))

    def sign(self, signs: Sequence[Sign], near: Point) -> None:
        """The largest of some signs that finds room; the smallest goes below the stencil if none does."""
        for sign in signs:
            spot = find_room(self.free, sign.shape, near)
            if spot is not None:
                self.put(sign.shape.moved(*spot), sign.marks_at(spot))
                return
        if self.beside:
            self.row.append(signs[-1])


def draw_figure(
    paper: Laid, words: StencilWords, style: LengthStyle, room: Area | None = None, beside: bool = True
) -> Figure:
    """Draw a stencil: exact lines first, then every word where nothing is crossed.

    `room` limits the words to an area (that of tiles). Words that find no room on the stencil go beside it, with
    leaders, or are told in the notes if `beside` is False.
    """
    free = _free(paper) if room is None else _free(paper).meet(room)
    desk = _Desk(paper, words, style, free, beside)
    _name_holes(desk)
    _name_regions(desk)
    _name_entries(desk)
    _signs(desk)
    _name_edges(desk)
    placed = [shape.offset(CLEAR / 2) for shape in desk.boxes]
    hatching = [
        mark
        for region in paper.regions
        if region.waste
        for mark in hatch(region.area.meet(paper.face).minus(*placed) if placed else region.area.meet(paper.face))
    ]
    exact = paper.bounds
    outer = _around(desk, exact)
    arrows = [a for run in _entries(paper) for a in entry_arrows(run, paper.face)]
    marks = (*hatching, *line_marks(paper), *arrows, *desk.marks, *outer)
    return Figure(marks, exact, joined_boxes([exact, *map(mark_box, marks)]), tuple(dict.fromkeys(desk.notes)))


def length_text(mm: float, style: LengthStyle) -> str:
    """A length in the style; one that the style rounds is followed by its millimetres."""
    exact = Fraction(str(round(mm, 6)))
    shown = show_length(exact, style)
    if is_exact(exact, style) or style.unit == "mm":
        return shown
    return f"{shown} ({to_mm_text(exact, 2)})"


def hole_text(hole: ArtHole, words: StencilWords, style: LengthStyle) -> str:
    """Diameter and depth of a hole in words."""
    diameter = length_text(hole.diameter, style)
    if hole.depth is None:
        return words.hole_through.format(diameter=diameter)
    if hole.depth == 0:
        return words.hole.format(diameter=diameter)
    return words.hole_deep.format(diameter=diameter, depth=length_text(hole.depth, style))


def mark_box(mark: Mark) -> Box:
    """The box around a mark; that of words is a little larger than the letters."""
    if isinstance(mark, Words):
        from planbook.drawing.stencil_room import words_box

        return words_box(mark).bounds
    points = mark.points if isinstance(mark, Stroke) else [p for ring in mark.rings for p in ring]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


def ink_bands(paper: Laid, clear: float) -> list[Area]:
    """Strips along every line, hole and edge that words must keep off, `clear` mm to each side."""
    runs = [run for line in paper.lines for shape in (saw_line(line), line.outline) for run in runs_of(shape)]
    bands = [run.band(2 * clear, over=clear) for run in (*runs, *paper.edges)]
    for hole in paper.holes:
        (x, y), r, reach = hole.at, hole.diameter / 2 + clear, cross_reach(hole) + clear
        bands.append(box(x - r, y - r, 2 * r, 2 * r))
        bands += [rectangle((x, y), 2 * reach, 2 * clear), rectangle((x, y), 2 * clear, 2 * reach)]
    return bands


def _free(paper: Laid) -> Area:
    """The face without everything drawn on it."""
    left, top, right, bottom = paper.bounds
    whole = box(left, top, right - left, bottom - top) if paper.face.empty else paper.face
    ticks = [cut_strip(line, TICK_LENGTH + CLEAR) for line in paper.lines if line.use == "cut"]
    taken = [*ink_bands(paper, 0.5), *ticks]
    return whole.minus(*taken) if taken else whole


def _entries(paper: Laid) -> list[Path]:
    return [line.outline for line in paper.lines if line.use == "entry" and isinstance(line.outline, Path)]


def _name_holes(desk: _Desk) -> None:
    holes = desk.paper.holes
    texts = [hole_text(hole, desk.words, desk.style) for hole in holes]
    kinds = list(dict.fromkeys(texts))
    if len(holes) < _TAGGED_FROM or len(kinds) > 26:
        for hole, text in zip(holes, texts, strict=True):
            _name_hole(desk, hole, Label((text,), SMALL))
        return
    for tag, kind in zip("ABCDEFGHIJKLMNOPQRSTUVWXYZ", kinds, strict=False):
        desk.notes.append(desk.words.holes_like.format(tag=tag, count=texts.count(kind), hole=kind))
        for hole, text in zip(holes, texts, strict=True):
            if text == kind:
                _name_hole(desk, hole, Label((tag,), BODY, bold=True))


def _name_hole(desk: _Desk, hole: ArtHole, label: Label) -> None:
    (x, y), reach = hole.at, hole.diameter / 2 + 1.8
    across, down = reach + label.width / 2, reach + label.height / 2
    shape = rectangle((0, 0), label.width + 2 * CLEAR, label.height + 2 * CLEAR)
    for dx, dy in ((1, -0.7), (1, 0.7), (-1, -0.7), (-1, 0.7), (0.3, -1.2), (0.3, 1.2)):
        spot = (x + dx * across, y + dy * down)
        if shape.moved(*spot).within(desk.free):
            desk.put(shape.moved(*spot), label.words(spot))
            return
    if not desk.label(label, (x + across, y - down), within=across + 6):
        desk.led(label, (x + hole.diameter / 2 * 0.7, y - hole.diameter / 2 * 0.7), dot=False)


def _name_regions(desk: _Desk) -> None:
    for region in sorted(desk.paper.regions, key=lambda r: r.area.size):
        text = plain(_region_text(region, desk.words), 80)
        if not _label_inside(desk, region, text):
            lines = broken(text, SMALL, _COLUMN)
            desk.led(Label(lines, SMALL, bold=not region.waste), region.area.middle, dot=True)


def _region_text(region: ArtRegion, words: StencilWords) -> str:
    if not region.waste:
        return region.name
    return words.waste if region.name == words.waste else words.waste_of.format(name=region.name)


def _label_inside(desk: _Desk, region: ArtRegion, text: str) -> bool:
    left, _, right, _ = region.area.bounds
    for size in _SIZES:
        for share in (1.0, 0.5, 0.3):
            width = max((right - left) * share - 2, 6.0)
            if share < 1 and width > width_of(text, size, True):
                continue
            label = Label(broken(text, size, min(width, 70.0), 3, bold=True), size, bold=not region.waste)
            if label.lines[-1].endswith("…") and not text.endswith("…"):
                continue
            if desk.label(label, _good_middle(region.area), area=region.area):
                return True
    return False


def _good_middle(area: Area) -> Point:
    middle = area.centroid
    return middle if area.holds(middle) else area.middle


def _name_entries(desk: _Desk) -> None:
    for entry in _entries(desk.paper):
        step = entry.points[0] if len(entry.points) < 3 else entry.points[len(entry.points) // 2]
        label = Label((desk.words.entry,), SMALL)
        if not desk.label(label, step, within=_FAR):
            desk.led(label, step, dot=False)


def _signs(desk: _Desk) -> None:
    paper, words = desk.paper, desk.words
    keep = [r for r in paper.regions if not r.waste]
    largest = max(keep, key=lambda r: r.area.size).area if keep else paper.face
    near = _good_middle(paper.face if largest.empty else largest) if not paper.face.empty else (0.0, 0.0)
    if paper.grain is None:
        desk.sign([end_grain_sign(words.end_grain)], (near[0], near[1] + 12))
    else:
        short = width_of(words.grain, BODY) + 14
        lengths = [short + more for more in (36, 20, 8, 0)]
        desk.sign([grain_sign(paper.grain, length, words.grain) for length in lengths], (near[0], near[1] + 12))
    desk.sign([up_sign(paper.up, words.this_way_up)], (near[0], near[1] - 14))


def _name_edges(desk: _Desk) -> None:
    """The words for the edge go close along its inside where they fit; those of a cropped stencil, along its sides."""
    paper = desk.paper
    left, top, right, bottom = paper.face.bounds if not paper.face.empty else paper.bounds
    if paper.edges:
        strip = paper.face.minus(paper.face.offset(-6.5))
        label = Label((desk.words.edge,), SMALL)
        if not desk.label(label, (left + label.width, bottom), area=strip) and desk.beside:
            _below_edge(desk, label)
    for side, distance in paper.art.away:
        text = desk.words.edge_away.format(length=length_text(distance, desk.style))
        _away(desk, side, Label((text,), SMALL), (left, top, right, bottom))


def _below_edge(desk: _Desk, label: Label) -> None:
    low = max((p for edge in desk.paper.edges for p in edge.points), key=lambda p: (round(p[1], 3), -p[0]))
    level = [p[0] for e in desk.paper.edges for p in e.points if abs(p[1] - low[1]) < 0.01]
    spot = ((min(level) + max(level)) / 2, max(low[1], desk.paper.bounds[3]) + 1.2 + label.height / 2)
    desk.put(rectangle(spot, label.width, label.height), label.words(spot))


def _away(desk: _Desk, side: str, label: Label, frame: Box) -> None:
    left, top, right, bottom = frame
    if desk.paper.turned:
        side = {"right": "above", "above": "left", "left": "below", "below": "right"}[side]
    middle = ((left + right) / 2, (top + bottom) / 2)
    ends = {
        "left": ((left, middle[1]), (left + 6, middle[1])),
        "right": ((right, middle[1]), (right - 6, middle[1])),
        "above": ((middle[0], top), (middle[0], top + 6)),
        "below": ((middle[0], bottom), (middle[0], bottom - 6)),
    }
    tip, tail = ends[side]
    reach = math.hypot(tip[0] - tail[0], tip[1] - tail[1])
    dx, dy = (tip[0] - tail[0]) / reach, (tip[1] - tail[1]) / reach
    wings = [(tip[0] - 2 * dx - s * dy, tip[1] - 2 * dy + s * dx) for s in (-1, 1)]
    from planbook.drawing.stencil_pens import THIN

    desk.marks += [Stroke((tail, tip), THIN, "edge"), Stroke((wings[0], tip, wings[1]), THIN, "edge")]
    if not desk.label(label, tail):
        desk.notes.append(label.lines[0])


def _around(desk: _Desk, exact: Box) -> list[Mark]:
    """Words beside the stencil with their leaders, and signs below it."""
    marks: list[Mark] = []
    y, x = exact[1], exact[2] + 8
    for label, target, dot in sorted(desk.column, key=lambda c: (c[1][1], c[1][0])):
        y = max(y, target[1] - label.height / 2)
        middle = (x + label.width / 2, y + label.height / 2)
        elbow = (x - 3, middle[1])
        marks += [*leader(target, elbow, dot), *leader(elbow, (x - 0.6, middle[1]), dot=False), *label.words(middle)]
        y += label.height + 1.5
    low = max([exact[3], *(shape.bounds[3] for shape in desk.boxes)])
    left = exact[0]
    for sign in desk.row:
        sl, st, sr, sb = sign.shape.bounds
        marks += sign.marks_at((left - sl, low + 2 - st))
        left += sr - sl + 3
        del sb
    return marks


def kinds_of(marks: Iterable[Mark]) -> frozenset[str]:
    """The layers that have marks."""
    return frozenset(mark.layer for mark in marks if not isinstance(mark, Fill) or mark.rings)
