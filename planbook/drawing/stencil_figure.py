"""One stencil drawn at true size with its words, in the coordinates it is laid in; not a page."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from planbook.drawing.marks import Fill, Mark, Stroke, Words
from planbook.drawing.stencil_art import Box, Laid, cut_strip, joined_boxes, runs_of, saw_line
from planbook.drawing.stencil_desk import Desk
from planbook.drawing.stencil_lines import TICK_LENGTH, cross_reach, hatch, line_marks
from planbook.drawing.stencil_names import entries_of, write_names
from planbook.drawing.stencil_room import CLEAR, rectangle, words_box
from planbook.drawing.stencil_signs import entry_arrows, inward
from planbook.drawing.stencil_words import StencilWords
from planbook.solids import Area
from planbook.solids.plane import blank_area, box
from planbook.units import LengthStyle


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawn stencil: the box of its lines, the box of its words too, notes for its caption, and bare wood.

    `bare` is where nothing is drawn or written on wood that is kept.
    """

    marks: tuple[Mark, ...]
    exact: Box
    bounds: Box
    notes: tuple[str, ...]
    bare: Area


def draw_figure(
    paper: Laid, words: StencilWords, style: LengthStyle, room: Area | None = None, beside: bool = True
) -> Figure:
    """Draw a stencil: exact lines first, then every word where nothing is crossed.

    `room` limits the words to an area (that of tiles). Words that find no room on the stencil go beside it,
    with leaders, or are told in the notes if `beside` is False.
    """
    free, outer = _free(paper)
    if room is not None:
        free, outer = free.meet(room), outer.meet(room)
    desk = Desk(paper, words, style, free, outer, _inked(paper), beside)
    write_names(desk)
    exact = paper.bounds
    arrows = [arrow for _, run in entries_of(paper) for arrow in entry_arrows(inward(run, paper))]
    marks = (*_waste(desk), *line_marks(paper), *arrows, *desk.marks, *desk.outside(exact))
    notes = [*desk.notes, words.turned] if paper.turned else desk.notes
    bounds = joined_boxes([exact, *map(mark_box, marks)])
    return Figure(marks, exact, bounds, tuple(dict.fromkeys(notes)), _bare(desk))


def _bare(desk: Desk) -> Area:
    waste = [region.area for region in desk.paper.regions if region.waste]
    return desk.free.meet(desk.paper.face).minus(*waste) if waste else desk.free.meet(desk.paper.face)


def _waste(desk: Desk) -> Iterator[Mark]:
    """Waste is hatched where no words stand."""
    placed = [shape.offset(CLEAR / 2) for shape in desk.boxes]
    for region in desk.paper.regions:
        if region.waste:
            area = region.area.meet(desk.paper.face)
            yield from hatch(area.minus(*placed) if placed else area)


def mark_box(mark: Mark) -> Box:
    """The box around a mark; that of words is a little larger than the letters."""
    if isinstance(mark, Words):
        return words_box(mark).bounds
    points = mark.points if isinstance(mark, Stroke) else [p for ring in mark.rings for p in ring]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


def ink_bands(paper: Laid, clear: float) -> list[Area]:
    """Strips along every line, hole and edge that words must keep off, `clear` mm to each side."""
    runs = [run for line in paper.lines for shape in (saw_line(line), line.outline) for run in runs_of(shape)]
    bands = [run.band(2 * clear, over=(clear, clear)) for run in (*runs, *paper.edges)]
    for hole in paper.holes:
        (x, y), r, reach = hole.at, hole.diameter / 2 + clear, cross_reach(hole) + clear
        bands.append(box(x - r, y - r, 2 * r, 2 * r))
        bands += [rectangle((x, y), 2 * reach, 2 * clear), rectangle((x, y), 2 * clear, 2 * reach)]
    return bands


def _inked(paper: Laid) -> Area:
    """Narrow strips along lines and edges, which a leader had better not cross nor graze."""
    return blank_area().plus(*ink_bands(replace(paper, holes=()), 0.5))


def _free(paper: Laid) -> tuple[Area, Area]:
    """The face, and the paper around it, without everything drawn there."""
    left, top, right, bottom = paper.bounds
    sheet = box(left, top, right - left, bottom - top)
    face = sheet if paper.face.empty else paper.face
    ticks = [cut_strip(line, TICK_LENGTH + CLEAR) for line in paper.lines if line.use == "cut"]
    taken = [*ink_bands(paper, 0.5), *ticks]
    return (face.minus(*taken), sheet.minus(face, *taken)) if taken else (face, sheet.minus(face))


def layers_of(marks: Iterable[Mark]) -> frozenset[str]:
    """The layers that have marks."""
    return frozenset(mark.layer for mark in marks if not isinstance(mark, Fill) or mark.rings)
