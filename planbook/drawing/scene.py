"""The picture of a step: its pieces as they lie after the work, their names, and the signs of what is done."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from planbook.drawing import alt, caption, cues, dodge, fence, ghost, inset, inset_room
from planbook.drawing.arrows import one_of_close
from planbook.drawing.cue_area import uncrowded
from planbook.drawing.detail import Detail, details_of
from planbook.drawing.fences import all_drawn, fences_of
from planbook.drawing.holes_in_sight import with_all_holes
from planbook.drawing.ink import LINE, QUIET, Ink
from planbook.drawing.inlaid import inlaid
from planbook.drawing.inset import Inset
from planbook.drawing.layouts import (
    BETWEEN,
    FIRST,
    WIDE,
    Sheet,
    around,
    caption_height,
    key_size,
    laid_out,
    sheet_of,
    sheets_of,
    with_names,
)
from planbook.drawing.lettering import LEADING, wrapped
from planbook.drawing.look import Look, hidden_lines
from planbook.drawing.marks import Mark, Pen, Picture, Ring, Stroke, Words, moved
from planbook.drawing.names import MARGIN, Layout
from planbook.drawing.paint import UNSEEN, Style, dashed, faces, lines, sheets
from planbook.drawing.paper import Paper
from planbook.drawing.plain_sight import FINER, NOTHING, missing
from planbook.drawing.sanding import faces_away
from planbook.drawing.stage import Stage, names, stages
from planbook.drawing.words import DOT, key, key_height, named, to_edges
from planbook.solids.hatch import Grounds, grounds
from planbook.speech import say
from planbook.units import LengthStyle
from planbook.workshop.timeline import Event, Timeline

FINE = 0.28
"""Radius of the dots of numbers, mm."""
GAP = 1.0
"""Between a picture and what is said below it, mm: no name may seem to go on there."""
SAME = 0.1
"""Pieces that differ by less than this (mm) look alike."""
BROAD = 12 / 7
"""A picture with two views is so many times as wide as one with one."""


@dataclass(frozen=True, eq=False, slots=True)
class _Drawn:
    """One view on paper: its marks, its height in mm, what it fails to show, and which pieces it enlarges."""

    marks: tuple[Mark, ...]
    height: float
    lost: tuple[str, ...]
    large: tuple[int, ...] = ()


def step_picture(
    timeline: Timeline,
    event: Event,
    width_mm: float,
    height_mm: float,
    ink: Ink = "colour",
    scale: float | None = None,
    lengths: LengthStyle | None = None,
    numbers: Mapping[str, int] | None = None,
) -> Picture:
    """The picture of one event, at most `height_mm` high, and BROAD times `width_mm` wide if it takes two views.

    All is mm of paper.

    `scale` (mm of paper for one mm of the object) is the largest to be used. With `lengths`, the distance of a fence
    is told in that style. An event that shows nothing gives a picture without marks. Where one view cannot show all
    that is worked, a second one stands beside it.
    """
    views = _views(event, width_mm)
    if not views:
        return Picture(width_mm, 0.0, (), alt.of_step(event, "", ""), (NOTHING,))
    width_mm = _width(width_mm, views)
    below = _below(views, width_mm)
    sheet = replace(
        sheet_of(width_mm, height_mm - _room(below, width_mm), ink, scale), lengths=lengths, numbers=numbers or {}
    )
    views = _fenced(views, event, lengths is not None)
    marks, high, drawn, listed = _captioned(timeline, event, views, sheet)
    if listed:
        size = key_size(width_mm)
        marks = (*marks, *key(listed, width_mm, high, size))
        high += key_height(tuple(listed.values()), width_mm, size) + MARGIN
    marks = (*marks, *_centred(below, key_size(width_mm), width_mm / 2, high + GAP, "also"))
    high += _room(below, width_mm)
    before = any(mark.layer == ghost.LAYER for mark in marks)
    told = replace(event, show=replace(event.show, pieces=views[0].pieces)) if event.show else event
    words = alt.of_step(told, views[0].show.face, *(stage.choice.words for stage in views), before=before)
    lost = tuple(dict.fromkeys(each for view in drawn for each in view.lost))
    if views[0].rough:
        lost = (*lost, f"{FINER}: shapes with so many corners are drawn {views[0].rough:.1f} mm coarser")
    return Picture(width_mm, round(high, 2), marks, words, lost)


def _captioned(
    timeline: Timeline, event: Event, views: Sequence[Stage], sheet: Sheet
) -> tuple[tuple[Mark, ...], float, Sequence[_Drawn], Mapping[str, str]]:
    """What `_composed` gives, with a caption where there is one view and it is not the usual one."""
    marks, high, drawn, listed = _composed(timeline, event, views, sheet)
    text = caption.caption_of(event, views[0].choice.words) if len(views) == 1 else ""
    if not text:
        return marks, high, drawn, listed
    size = key_size(sheet.width)
    said = caption.cornered(text, marks, sheet.width, high, size)
    if said is not None:
        return (*marks, said), high, drawn, listed
    room = caption.line(size)
    marks, high, drawn, listed = _composed(timeline, event, views, replace(sheet, height=sheet.height - room))
    return (*marks, caption.under(text, high, size)), high + room, drawn, listed


def _composed(
    timeline: Timeline, event: Event, views: Sequence[Stage], sheet: Sheet
) -> tuple[tuple[Mark, ...], float, Sequence[_Drawn], Mapping[str, str]]:
    """The marks of all views without captions and a key, their height, each view, and the names of the key."""
    layouts, listed = laid_out(views, sheet)
    drawn: list[_Drawn] = []
    for each in zip(views, layouts, sheets_of(sheet, len(views)), strict=True):
        drawn.append(_view(timeline, event, *each, bool(listed), drawn[0].large if drawn else ()))
    return *_beside(views, drawn, sheet), drawn, listed


def step_scale(timeline: Timeline, event: Event, width_mm: float, height_mm: float, told: bool = False) -> float | None:
    """The scale that `step_picture` would choose for an event, or None if it shows nothing.

    `told` says that lengths are told in it.
    """
    views = _views(event, width_mm)
    if not views:
        return None
    views, wide = _fenced(views, event, told), _width(width_mm, views)
    room = height_mm - _room(_below(views, wide), wide)
    return laid_out(views, sheet_of(wide, room, "colour", None))[0][0].paper.scale


def _views(event: Event, width_mm: float) -> tuple[Stage, ...]:
    """What is seen of an event, from one side or from two where there is room for them."""
    two = width_mm >= WIDE
    return with_all_holes(stages(event, two)) if two else stages(event, two)


def _fenced(views: Sequence[Stage], event: Event, told: bool) -> tuple[Stage, ...]:
    if not told:
        return tuple(replace(stage, fence=None) for stage in views)
    found = [fences_of(stage, event) for stage in views]
    return tuple(replace(s, fence=f[0] if f else None, further=f[1:]) for s, f in zip(views, found, strict=True))


def _width(width_mm: float, views: Sequence[Stage]) -> float:
    return width_mm * BROAD if len(views) > 1 else width_mm


def unseen(picture: Picture) -> tuple[str, ...]:
    """Names of the pieces of a picture that lie behind others in every view and are only drawn in dashes."""
    found = (mark.layer for mark in picture.marks if mark.layer.startswith(UNSEEN))
    return tuple(dict.fromkeys(layer.removeprefix(UNSEEN) for layer in found))


def _view(
    timeline: Timeline,
    event: Event,
    stage: Stage,
    layout: Layout,
    sheet: Sheet,
    listed: bool,
    enlarged_before: tuple[int, ...] = (),
) -> _Drawn:
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
    far = _distance(stage, layout, sheet, enlarged, last=True)
    work = _work(stage, layout.paper, style, ghost.lines_of(chain.from_iterable(signs)))
    told = [(cue, bool(drawn)) for cue, drawn in zip(stage.show.cues, signs, strict=True)]
    large = enlarged.detail.pieces if enlarged is not None else alike
    lost = missing(stage.pieces, stage.matters, stage.look, layout.paper.scale, work, told, large)
    marks = (*work, *_stacked(signs, named(layout.labels, layout.size, dot), far))
    if enlarged is None:
        return _Drawn(marks, layout.height, lost)
    high = max(layout.height, inset.low(enlarged) + MARGIN)
    return _Drawn((*marks, *inset.drawn(enlarged, stage, layout.paper, style)), high, lost, large)


def _enlarged(
    layout: Layout, stage: Stage, signs: Sequence[Sequence[Mark]], details: Sequence[Detail], sheet: Sheet
) -> tuple[Layout, Inset | None]:
    """Of the places that may be enlarged the first that has room near by, or the best, and the layout clear of it."""
    best: tuple[float, Layout, Inset] | None = None
    seen = _seen(stage.look)
    for n, detail in enumerate(details):
        clear = _clear(layout, stage, signs, detail, sheet, seen)
        taken = fence.taken([*chain.from_iterable(signs), *_distance(stage, clear, sheet)])
        found = inset_room.placed(detail, stage, clear, sheet.height, taken)
        if found is None:  # nor would the others find room
            break
        cost = found.cost + inset_room.LATER * n
        if best is None or cost < best[0]:
            best = (cost, clear, found)
        if best[0] < inset_room.NEAR:
            break
    return best[1:] if best is not None else (_clear(layout, stage, signs, None, sheet, seen), None)


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


def _distance(
    stage: Stage, layout: Layout, sheet: Sheet, enlarged: Inset | None = None, last: bool = False
) -> tuple[Mark, ...]:
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
    told = all_drawn(stage, layout.paper, sheet.lengths, shapes, wires, leaders, size, last)
    return tuple(chain.from_iterable(told))


def _signs(stage: Stage, paper: Paper, ink: Ink) -> list[tuple[Mark, ...]]:
    """The marks of each cue."""
    rooms = cues.rooms(stage.show.cues, stage.pieces, stage.look.view, paper)
    signs = zip(stage.show.cues, rooms, strict=True)
    drawn = [cues.drawn(cue, stage.pieces, stage.look, paper, ink, room) for cue, room in signs]
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
    if stage.sheets:
        marks += sheets(stage.look, stage.placed, paper, style.ink)
    marks += ghost.drawn(stage.before, stage.look, paper, cuts)
    marks += lines(stage.look, paper, style)
    for n in stage.choice.unseen:
        marks += dashed(hidden_lines(stage.placed, stage.look.view, n), stage.pieces[n].piece.name, paper, style)
    return tuple(marks)


def _beside(views: Sequence[Stage], drawn: Sequence[_Drawn], sheet: Sheet) -> tuple[tuple[Mark, ...], float]:
    """The views side by side, level with each other, a thin line between them; and the height of it all, mm."""
    if len(drawn) == 1:
        return drawn[0].marks, drawn[0].height
    below = caption_height(sheet)
    high = max(each.height for each in drawn) + below
    start = (sheet.width - BETWEEN) * FIRST + BETWEEN
    middle = start - BETWEEN / 2
    marks: list[Mark] = [Stroke(((middle, MARGIN), (middle, high - MARGIN)), Pen(0.13, QUIET), "between views")]
    for stage, each, (left, right) in zip(views, drawn, ((0.0, start - BETWEEN), (start, sheet.width)), strict=True):
        marks += moved(each.marks, left, (high - each.height - below) / 2)
        marks += _caption(stage, sheet, (left + right) / 2, high)
    return tuple(marks), high


def _caption(stage: Stage, sheet: Sheet, middle: float, bottom: float) -> tuple[Mark, ...]:
    """From where one of two views is seen, in words below it."""
    text, size = say("Seen from the {view}.", view=say(stage.choice.words)), key_size(sheet.width)
    rows = wrapped(text, size, (sheet.width - BETWEEN) * (1 - FIRST) - 2 * MARGIN, 2)
    return _centred(rows, size, middle, bottom - MARGIN - LEADING * size * len(rows), "view")


def _below(views: Sequence[Stage], width: float) -> tuple[str, ...]:
    """What is said below a picture: which faces are sanded or edged that look away."""
    text = faces_away([(stage.show.cues, stage.look.view) for stage in views])
    return tuple(wrapped(text, key_size(width), width - 2 * MARGIN, 2, len(text))) if text else ()


def _room(rows: Sequence[str], width: float) -> float:
    """How high that is, mm."""
    return GAP + len(rows) * LEADING * key_size(width) + MARGIN if rows else 0.0


def _centred(rows: Sequence[str], size: float, middle: float, top: float, layer: str) -> tuple[Mark, ...]:
    """Rows of words below a height."""
    first = top + (LEADING - 0.3) * size
    return tuple(
        Words((middle, first + LEADING * size * k), row, size, "middle", colour=LINE, layer=layer)
        for k, row in enumerate(rows)
    )
