"""The picture of a step: its pieces as they lie after the work, their names, and the signs of what is done."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from planbook.drawing import alt, cues, fence, ghost, inset
from planbook.drawing.detail import detail_of
from planbook.drawing.fence import fence_of
from planbook.drawing.ink import LINE, QUIET, SMALL, USUAL, Ink, Pens
from planbook.drawing.lettering import LEADING, wrapped
from planbook.drawing.look import hidden_lines
from planbook.drawing.marks import Mark, Pen, Picture, Ring, Stroke, Words, moved
from planbook.drawing.names import MARGIN, Layout, Room, Wanted, arranged, trimmed
from planbook.drawing.numbers import numbered
from planbook.drawing.paint import UNSEEN, Style, dashed, faces, lines, sheets
from planbook.drawing.paper import Paper
from planbook.drawing.plain_sight import FINER, NOTHING, missing
from planbook.drawing.stage import Stage, bounds, names, stages
from planbook.drawing.words import DOT, key, key_height, named
from planbook.speech import say
from planbook.units import LengthStyle
from planbook.workshop.timeline import Event, Timeline

LARGEST = 2.0
"""No object is drawn larger than this many times its size."""
MANY = 14
"""From one more name than this on, pieces get numbers and a key."""
FINE = 0.28
"""Radius of the dots of numbers, mm."""
FIRST = 0.5
"""Share of the width that the first of two views gets."""
SAME = 0.1
"""Pieces that differ by less than this (mm) look alike."""
BROAD = 12 / 7
"""A picture with two views is so many times as wide as one with one."""
WIDE = 70.0
"""A picture narrower than this has no room for two views, nor for names in 8 points, mm."""
BETWEEN = 3.0
"""Between two views, mm."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Paper for a view, mm: the type size of names, the largest scale, the pens, the ink, and how lengths are told."""

    width: float
    height: float
    size: float
    most: float
    pens: Pens
    ink: Ink
    lengths: LengthStyle | None = None


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
) -> Picture:
    """The picture of one event, at most `height_mm` high, and BROAD times `width_mm` wide if it takes two views.

    All is mm of paper.

    `scale` (mm of paper for one mm of the object) is the largest to be used. With `lengths`, the distance of a fence
    is told in that style. An event that shows nothing gives a picture without marks. Where one view cannot show all
    that is worked, a second one stands beside it.
    """
    views = stages(event, width_mm >= WIDE)
    if not views:
        return Picture(width_mm, 0.0, (), alt.of_step(event, "", ""), (NOTHING,))
    width_mm = _width(width_mm, views)
    sheet = replace(_sheet(width_mm, height_mm, ink, scale), lengths=lengths)
    views = tuple(replace(stage, fence=fence_of(stage, event) if lengths else None) for stage in views)
    layouts, listed = _layouts(views, sheet)
    drawn: list[_Drawn] = []
    for each in zip(views, layouts, _parts(sheet, len(views)), strict=True):
        drawn.append(_view(timeline, event, *each, bool(listed), drawn[0].large if drawn else ()))
    marks, high = _beside(views, drawn, sheet)
    if listed:
        size = _key_size(width_mm)
        marks = (*marks, *key(listed, width_mm, high, size))
        high += key_height(listed, width_mm, size) + MARGIN
    before = any(mark.layer == ghost.LAYER for mark in marks)
    words = alt.of_step(event, views[0].show.face, *(stage.choice.words for stage in views), before=before)
    lost = tuple(dict.fromkeys(each for view in drawn for each in view.lost))
    if views[0].rough:
        lost = (*lost, f"{FINER}: shapes with so many corners are drawn {views[0].rough:.1f} mm coarser")
    return Picture(width_mm, round(high, 2), marks, words, lost)


def step_scale(timeline: Timeline, event: Event, width_mm: float, height_mm: float) -> float | None:
    """The scale that `step_picture` would choose for an event, or None if it shows nothing."""
    views = stages(event, width_mm >= WIDE)
    if not views:
        return None
    return _layouts(views, _sheet(_width(width_mm, views), height_mm, "colour", None))[0][0].paper.scale


def _width(width_mm: float, views: Sequence[Stage]) -> float:
    return width_mm * BROAD if len(views) > 1 else width_mm


def shared_scales(own: Sequence[float | None], within: float = 1.5) -> tuple[float | None, ...]:
    """From the scale that each picture would choose: neighbours that differ by less than `within` times share one.

    It is the smallest of theirs, so that every picture still has room; None (no picture) stays None.
    """
    groups: list[list[int]] = []
    for n, value in enumerate(own):
        if value is None:
            continue
        group = [own[k] or 0.0 for k in groups[-1]] if groups else []
        if group and max(*group, value) <= within * min(*group, value):
            groups[-1].append(n)
        else:
            groups.append([n])
    shared: list[float | None] = [None] * len(own)
    for members in groups:
        least = min(own[k] or 0.0 for k in members)
        for k in members:
            shared[k] = least
    return tuple(shared)


def unseen(picture: Picture) -> tuple[str, ...]:
    """Names of the pieces of a picture that lie behind others in every view and are only drawn in dashes."""
    found = (mark.layer for mark in picture.marks if mark.layer.startswith(UNSEEN))
    return tuple(dict.fromkeys(layer.removeprefix(UNSEEN) for layer in found))


def _sheet(width: float, height: float, ink: Ink, scale: float | None) -> _Sheet:
    """Names are set in 8 points in a picture of usual size."""
    size = 2.8 if width >= WIDE else 2.3
    return _Sheet(width, height, size, min(LARGEST, scale or LARGEST), USUAL if width > 45 else SMALL, ink)


def _key_size(width: float) -> float:
    return 2.4 if width >= WIDE else 2.1


def _parts(sheet: _Sheet, views: int) -> list[_Sheet]:
    """The paper of each view; the second is the smaller one."""
    if views == 1:
        return [sheet]
    room = sheet.width - BETWEEN
    lower = replace(sheet, width=room * (1 - FIRST), height=sheet.height - _caption_height(sheet))
    return [replace(sheet, width=room * FIRST), lower]


def _layouts(views: Sequence[Stage], sheet: _Sheet) -> tuple[list[Layout], tuple[str, ...]]:
    """Where everything stands, and the names of the key (none where names stand beside the drawing)."""
    wanted = [names(stage) for stage in views]
    texts = tuple(name.text for each in wanted for name in each)
    if len(texts) <= MANY:
        found = [_named(*each) for each in zip(views, wanted, _parts(sheet, len(views)), strict=True)]
        layouts = [layout for layout in found if layout is not None]
        if len(layouts) == len(views):
            return layouts, ()
    rest = sheet.height - key_height(texts, sheet.width, _key_size(sheet.width)) - MARGIN
    small = replace(sheet, height=max(rest, 0.45 * sheet.height), size=sheet.size * 0.85)
    digits = iter(range(1, len(texts) + 1))
    numbers = [[Wanted(str(next(digits)), n.faces, n.spot, n.room, bold=True) for n in each] for each in wanted]
    return [_numbered(*each) for each in zip(views, numbers, _parts(small, len(views)), strict=True)], texts


def _named(stage: Stage, wanted: Sequence[Wanted], sheet: _Sheet) -> Layout | None:
    room, edge = _room(stage, sheet), bounds(stage)
    layout = arranged(wanted, edge, room)
    return trimmed(layout, edge, room.pad) if layout is not None else None


def _numbered(stage: Stage, wanted: Sequence[Wanted], sheet: _Sheet) -> Layout:
    room, edge = replace(_room(stage, sheet), air=0.3), bounds(stage)
    return trimmed(numbered(wanted, edge, room), edge, room.pad)


def _room(stage: Stage, sheet: _Sheet) -> Room:
    pad = max(cues.sticking_out(stage.show.cues), fence.ROOM if stage.fence else 0.0)
    return Room(sheet.width, sheet.height, sheet.size, sheet.most, pad)


def _view(
    timeline: Timeline,
    event: Event,
    stage: Stage,
    layout: Layout,
    sheet: _Sheet,
    listed: bool,
    enlarged_before: tuple[int, ...] = (),
) -> _Drawn:
    """One view on paper, with a small place of it enlarged if need be; what is alike is enlarged once."""
    style = Style(tuple(s.role for s in stage.pieces), sheet.pens, sheet.ink, timeline.design.handbook)
    alike = tuple(n for n in stage.matters if any(_alike(stage, n, k) for k in enlarged_before))
    detail = None if alike else detail_of(stage, event, layout.paper.scale)
    signs = _signs(stage, layout.paper, sheet.ink)
    far = _distance(stage, layout, sheet)
    enlarged = None
    if detail is not None:
        taken = fence.taken([*chain.from_iterable(signs), *far])
        enlarged = inset.placed(detail, stage, layout, sheet.height, taken)
    if detail is not None and enlarged is None and not listed:
        narrow = _named(stage, names(stage), replace(sheet, width=sheet.width - inset.strip()))
        if narrow is not None:
            layout, signs = narrow, _signs(stage, narrow.paper, sheet.ink)
            far = _distance(stage, layout, sheet)
            enlarged = inset.beside(detail, stage, narrow, narrow.width)
    work = _work(stage, layout.paper, style, ghost.lines_of(chain.from_iterable(signs)))
    told = [(cue, bool(drawn)) for cue, drawn in zip(stage.show.cues, signs, strict=True)]
    large = detail.pieces if detail is not None and enlarged is not None else alike
    lost = missing(stage.pieces, stage.matters, stage.look, layout.paper.scale, work, told, large)
    marks = (*work, *_stacked(signs, named(layout.labels, layout.size, FINE if listed else DOT), far))
    if enlarged is None:
        return _Drawn(marks, layout.height, lost)
    high = max(layout.height, inset.low(enlarged) + MARGIN)
    return _Drawn((*marks, *inset.drawn(enlarged, stage, layout.paper, style)), high, lost, large)


def _alike(stage: Stage, one: int, other: int) -> bool:
    """Whether two pieces are of the same size."""
    sizes = [stage.pieces[n].piece.solid.extent for n in (one, other)]
    return all(abs(a - b) < SAME for a, b in zip(*sizes, strict=True))


def _distance(stage: Stage, layout: Layout, sheet: _Sheet) -> tuple[Mark, ...]:
    """The dimension of the fence, if the step has one and lengths are told."""
    if stage.fence is None or sheet.lengths is None:
        return ()
    leaders = [(label.start, label.dot) for label in layout.labels if label.side != "on"]
    return fence.drawn(stage.fence, stage, layout.paper, sheet.lengths, leaders)


def _signs(stage: Stage, paper: Paper, ink: Ink) -> list[tuple[Mark, ...]]:
    """The marks of each cue."""
    rooms = cues.rooms(stage.show.cues, stage.pieces, stage.look.view, paper)
    signs = zip(stage.show.cues, rooms, strict=True)
    return [cues.drawn(cue, stage.pieces, stage.look, paper, ink, room) for cue, room in signs]


def _stacked(signs: Iterable[Sequence[Mark]], words: Sequence[Mark], far: Sequence[Mark]) -> list[Mark]:
    """Signs, leaders and names from back to front: an arrow that is cut by a leader could not be told any more."""
    over = {True: list[Mark](), False: list[Mark]()}
    for mark in chain.from_iterable(signs):
        over[mark.layer in ("push", "clamp")].append(mark)
    leaders = [mark for mark in words if mark.layer in ("leader bed", "leader")]
    names = [mark for mark in words if mark.layer not in ("leader bed", "leader")]
    return [*over[False], *far, *leaders, *over[True], *names]


def _work(stage: Stage, paper: Paper, style: Style, cuts: Sequence[Ring]) -> tuple[Mark, ...]:
    """Faces, what was there before, lines and dashes of the hidden, from back to front."""
    marks: list[Mark] = [*faces(stage.look, paper, style)]
    if stage.sheets:
        marks += sheets(stage.look, stage.placed, paper)
    marks += ghost.drawn(stage.before, stage.look, paper, cuts)
    marks += lines(stage.look, paper, style)
    for n in stage.choice.unseen:
        marks += dashed(hidden_lines(stage.placed, stage.look.view, n), stage.pieces[n].piece.name, paper, style)
    return tuple(marks)


def _beside(views: Sequence[Stage], drawn: Sequence[_Drawn], sheet: _Sheet) -> tuple[tuple[Mark, ...], float]:
    """The views side by side, level with each other, a thin line between them; and the height of it all, mm."""
    if len(drawn) == 1:
        return drawn[0].marks, drawn[0].height
    one, two = drawn
    caption = _caption_height(sheet)
    high = max(one.height, two.height + caption)
    start = (sheet.width - BETWEEN) * FIRST + BETWEEN
    middle = start - BETWEEN / 2
    first = moved(one.marks, 0.0, (high - one.height) / 2)
    second = moved(two.marks, start, (high - two.height - caption) / 2)
    between = Stroke(((middle, MARGIN), (middle, high - MARGIN)), Pen(0.13, QUIET), "between views")
    said = _caption(views[1], sheet, (start + sheet.width) / 2, high)
    return (*first, *second, between, *said), high


def _caption(stage: Stage, sheet: _Sheet, middle: float, bottom: float) -> tuple[Mark, ...]:
    """From where the second view is seen, in words below it."""
    text, size = say("Seen from the {view}.", view=say(stage.choice.words)), _key_size(sheet.width)
    rows = wrapped(text, size, (sheet.width - BETWEEN) * (1 - FIRST) - 2 * MARGIN, 2)
    first = bottom - MARGIN - 0.3 * size - LEADING * size * (len(rows) - 1)
    return tuple(
        Words((middle, first + LEADING * size * k), row, size, "middle", colour=LINE, layer="view")
        for k, row in enumerate(rows)
    )


def _caption_height(sheet: _Sheet) -> float:
    return 2 * LEADING * _key_size(sheet.width) + MARGIN
