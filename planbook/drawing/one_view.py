"""One view of a step on paper: its pieces, their names, the signs of what is done, and a place of it enlarged."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import chain

from planbook.drawing import cues, dodge, fence, ghost, inset, inset_room
from planbook.drawing.arrows import one_of_close
from planbook.drawing.clamps import clamped
from planbook.drawing.cue_area import uncrowded
from planbook.drawing.detail import Detail, details_of
from planbook.drawing.fences import Told, all_drawn
from planbook.drawing.ink import Ink
from planbook.drawing.inlaid import inlaid
from planbook.drawing.inset import Inset
from planbook.drawing.layouts import Sheet, around, with_names
from planbook.drawing.look import Look, hidden_lines
from planbook.drawing.marks import Mark, Ring
from planbook.drawing.names import MARGIN, Layout
from planbook.drawing.paint import Style, dashed, faces, hatch, lines, sheets
from planbook.drawing.paper import Paper
from planbook.drawing.plain_sight import missing
from planbook.drawing.stage import Stage, names
from planbook.drawing.words import DOT, named, to_edges
from planbook.solids.hatch import Grounds, grounds
from planbook.workshop.timeline import Event, Timeline

FINE = 0.28
"""Radius of the dots of numbers, mm."""
SAME = 0.1
"""Pieces that differ by less than this (mm) look alike."""


@dataclass(frozen=True, eq=False, slots=True)
class Drawn:
    """One view on paper: its marks, its height in mm, what it fails to show, and which pieces it enlarges.

    `told` is what its dimensions tell, as `Fence.told_as`.
    """

    marks: tuple[Mark, ...]
    height: float
    lost: tuple[str, ...]
    large: tuple[int, ...] = ()
    told: tuple[tuple[float, ...], ...] = ()


def one_view(
    timeline: Timeline,
    event: Event,
    stage: Stage,
    layout: Layout,
    sheet: Sheet,
    listed: bool,
    enlarged_before: tuple[int, ...] = (),
) -> Drawn:
    """One view on paper, with a small place of it enlarged if need be; what is alike is enlarged once."""
    style = Style(tuple(s.role for s in stage.pieces), sheet.pens, sheet.ink, timeline.design.handbook)
    alike = tuple(n for n in stage.matters if any(_alike(stage, n, k) for k in enlarged_before))
    details = () if alike else details_of(stage, event, layout.paper.scale)
    signs = _signs(stage, layout.paper, sheet.ink)
    # The distances of holes take the room that is left.
    bare = replace(stage, fence=None) if stage.fence is not None and stage.fence.hole else stage
    layout, enlarged = _enlarged(layout, bare, signs, details, sheet)
    if details and enlarged is None and not listed:
        narrow = with_names(stage, names(stage), replace(sheet, width=sheet.width - inset.strip()))
        if narrow is not None:
            signs = _signs(stage, narrow.paper, sheet.ink)
            layout = _clear(narrow, bare, signs, details[0], sheet, _seen(stage.look))
            enlarged = inset_room.beside(details[0], stage, layout, layout.width)
    if enlarged is not None:
        layout = inset_room.joined(layout, inset.ring_of(enlarged, stage, layout.paper))
    dot = FINE if listed else DOT
    layout = to_edges(layout, dot)
    dimensions = _dimensions(stage, layout, sheet, enlarged, last=True)
    said = tuple(fence.told_as for fence, _ in dimensions)
    work = _work(stage, layout.paper, style, ghost.lines_of(chain.from_iterable(signs)))
    told = [(cue, bool(drawn)) for cue, drawn in zip(stage.show.cues, signs, strict=True)]
    large = enlarged.detail.pieces if enlarged is not None else alike
    lost = missing(stage.pieces, stage.matters, stage.look, layout.paper.scale, work, told, large)
    marks = (*work, *_stacked(signs, named(layout.labels, layout.size, dot), _marks(dimensions)))
    if enlarged is None:
        return Drawn(marks, layout.height, lost, told=said)
    high = max(layout.height, inset.low(enlarged) + MARGIN)
    return Drawn((*marks, *inset.drawn(enlarged, stage, layout.paper, style)), high, lost, large, said)


def _enlarged(
    layout: Layout, stage: Stage, signs: Sequence[Sequence[Mark]], details: Sequence[Detail], sheet: Sheet
) -> tuple[Layout, Inset | None]:
    """Of the places that may be enlarged the first that has room near by, or the best, and the layout clear of it."""
    seen = _seen(stage.look)
    if not details:
        return _clear(layout, stage, signs, None, sheet, seen), None
    bare = inset_room.Bare(stage, layout.paper, layout.width, sheet.height)
    nameless = replace(layout, labels=())

    @cache
    def clear(n: int) -> tuple[Layout, Sequence[Ring]]:
        found = _clear(layout, stage, signs, details[n], sheet, seen)
        return found, fence.taken([*chain.from_iterable(signs), *_distance(stage, found, sheet)])

    def placed(n: int, most: float) -> Inset | None:
        # Where there is no room even without names and signs, they need not make way.
        if inset_room.placed(details[n], bare, nameless, (), most) is None:
            return None
        return inset_room.placed(details[n], bare, *clear(n), most)

    if len(details) > 1:
        for n in range(len(details)):
            found = placed(n, inset_room.NEAR)
            if found is not None and found.cost + inset_room.LATER * n < inset_room.NEAR:
                return clear(n)[0], found
    best: tuple[Layout, Inset] | None = None
    for most in inset_room.FAR if len(details) > 1 else (math.inf,):
        for n in range(len(details)):
            found = placed(n, most - inset_room.LATER * n)
            if found is not None:
                best, most = (clear(n)[0], found), found.cost + inset_room.LATER * n
        if best is not None:
            return best
    return _clear(layout, stage, signs, None, sheet, seen), None


def _clear(
    layout: Layout,
    stage: Stage,
    signs: Sequence[Sequence[Mark]],
    detail: Detail | None,
    sheet: Sheet,
    seen: Grounds,
) -> Layout:
    """The layout with its leaders clear of arrows, of the ring around what is enlarged, and of the fence's distance.

    Where that finds no clear place, the leaders are asked to give way to it. What lies in the ring is named there;
    `seen` is what is seen of each piece, mm of the view.
    """
    rings = [inset_room.place_of(detail, stage, layout.paper)] if detail is not None else []
    for ring in rings:
        layout = inset_room.to_ring(layout, ring)
    far = max((_distance(stage, each, sheet) for each in (layout, replace(layout, labels=()))), key=len)
    taken = dodge.taken([*chain.from_iterable(signs)], rings, fence.taken(far))
    taken = replace(taken, marks=(*taken.marks, *inlaid(stage.look, layout.paper)))
    return dodge.clear_of(layout, taken, seen)


def _seen(look: Look) -> Grounds:
    """What is seen of each piece."""
    owners = {face.piece for face in look.faces}
    return grounds([[q for face in look.of(n) for q in face.polygons] for n in sorted(owners)])


def _alike(stage: Stage, one: int, other: int) -> bool:
    """Whether two pieces are of the same size."""
    sizes = [stage.pieces[n].piece.solid.extent for n in (one, other)]
    return all(abs(a - b) < SAME for a, b in zip(*sizes, strict=True))


def _distance(stage: Stage, layout: Layout, sheet: Sheet) -> tuple[Mark, ...]:
    return _marks(_dimensions(stage, layout, sheet))


def _marks(dimensions: Sequence[Told]) -> tuple[Mark, ...]:
    return tuple(chain.from_iterable(marks for _, marks in dimensions))


def _dimensions(
    stage: Stage, layout: Layout, sheet: Sheet, enlarged: Inset | None = None, last: bool = False
) -> tuple[Told, ...]:
    """The dimensions of the fence, if the step has any and lengths are told, clear of what is enlarged.

    The `last` ones, after which nothing gives way any more, find more room; see `all_drawn`.
    """
    if stage.fence is None or sheet.lengths is None:
        return ()
    shapes, wires, leaders = around(layout)
    if enlarged is not None:
        shapes = [*shapes, *inset.shapes_of(enlarged)]
        wires = [*wires, *inset.wires_of(enlarged, stage, layout.paper)]
    size = (layout.width, layout.height)
    return all_drawn(stage, layout.paper, sheet.lengths, shapes, wires, leaders, size, last)


def _signs(stage: Stage, paper: Paper, ink: Ink) -> list[tuple[Mark, ...]]:
    """The marks of each cue."""
    rooms = cues.rooms(stage.show.cues, stage.pieces, stage.look.view, paper)
    signs = zip(stage.show.cues, rooms, strict=True)
    drawn = [cues.drawn(cue, stage.pieces, stage.look, paper, ink, room) for cue, room in signs]
    for n, marks in clamped(stage.show.cues, stage.pieces, stage.look, paper, ink).items():
        drawn[n] = marks
    every = uncrowded(cues.beds_first(drawn, stage.show.cues))
    return one_of_close(every, stage.show.cues, stage.pieces)


def _stacked(signs: Iterable[Sequence[Mark]], words: Sequence[Mark], far: Sequence[Mark]) -> list[Mark]:
    """Signs, leaders and names from back to front: an arrow that is cut by a leader could not be told any more."""
    over = {True: list[Mark](), False: list[Mark]()}
    for mark in chain.from_iterable(signs):
        over[mark.layer in dodge.ARROWS].append(mark)
    leaders = [mark for mark in words if mark.layer in ("leader bed", "leader")]
    names = [mark for mark in words if mark.layer not in ("leader bed", "leader")]
    return [*over[False], *far, *leaders, *over[True], *names]


def _work(stage: Stage, paper: Paper, style: Style, cuts: Sequence[Ring]) -> tuple[Mark, ...]:
    """Faces, what was there before, lines and dashes of the hidden, from back to front."""
    marks: list[Mark] = [*faces(stage.look, paper, style)]
    marks += sheets(stage.look, stage.placed, paper, style.ink)
    marks += hatch(stage.look, paper, style)
    marks += ghost.drawn(stage.before, stage.look, paper, cuts)
    marks += lines(stage.look, paper, style)
    for n in stage.choice.unseen:
        marks += dashed(hidden_lines(stage.placed, stage.look.view, n), stage.pieces[n].piece.name, paper, style)
    return tuple(marks)
