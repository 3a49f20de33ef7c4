"""The picture of a step: its pieces as they lie after the work, their names, and the signs of what is done."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planbook.drawing import alt, caption, ghost
from planbook.drawing.clamps_away import ends_away
from planbook.drawing.fences import fences_of
from planbook.drawing.hole_fences import untold
from planbook.drawing.holes_in_sight import with_all_holes
from planbook.drawing.ink import LINE, QUIET, Ink
from planbook.drawing.layouts import (
    BETWEEN,
    FIRST,
    WIDE,
    Sheet,
    caption_height,
    key_size,
    laid_out,
    sheet_of,
    sheets_of,
    words_size,
)
from planbook.drawing.lettering import LEADING, wrapped
from planbook.drawing.marks import Mark, Pen, Picture, Stroke, Words, moved
from planbook.drawing.names import MARGIN
from planbook.drawing.one_view import Drawn, one_view
from planbook.drawing.paint import UNSEEN
from planbook.drawing.plain_sight import FINER, NOTHING
from planbook.drawing.sanding import faces_away
from planbook.drawing.stage import Stage, stages
from planbook.drawing.words import key, key_height
from planbook.speech import say
from planbook.units import LengthStyle
from planbook.workshop.timeline import Event, Timeline

GAP = 1.0
"""Between a picture and what is said below it, mm: no name may seem to go on there."""
BROAD = 12 / 7
"""A picture with two views is so many times as wide as one with one."""


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
    composed = _captioned(timeline, event, views, sheet)
    more = _untold(event, views, composed[2], lengths)
    if more:
        below = _below(views, width_mm, more)
        if composed[1] + _room(below, width_mm) > height_mm:
            composed = _captioned(timeline, event, views, replace(sheet, height=height_mm - _room(below, width_mm)))
            below = _below(views, width_mm, _untold(event, views, composed[2], lengths))
    marks, high, drawn, listed = composed
    if listed:
        size = key_size(width_mm, len(listed))
        marks = (*marks, *key(listed, width_mm, high, size))
        high += key_height(tuple(listed.values()), width_mm, size) + MARGIN
    marks = (*marks, *_centred(below, words_size(width_mm), width_mm / 2, high + GAP, "also"))
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
) -> tuple[tuple[Mark, ...], float, Sequence[Drawn], Mapping[str, str]]:
    """What `_composed` gives, with a caption where there is one view and it is not the usual one."""
    marks, high, drawn, listed = _composed(timeline, event, views, sheet)
    text = caption.caption_of(event, views[0].choice.words) if len(views) == 1 else ""
    if not text:
        return marks, high, drawn, listed
    size = words_size(sheet.width)
    said = caption.cornered(text, marks, sheet.width, high, size)
    if said is not None:
        return (*marks, said), high, drawn, listed
    room = caption.line(size)
    marks, high, drawn, listed = _composed(timeline, event, views, replace(sheet, height=sheet.height - room))
    return (*marks, caption.under(text, high, size)), high + room, drawn, listed


def _composed(
    timeline: Timeline, event: Event, views: Sequence[Stage], sheet: Sheet
) -> tuple[tuple[Mark, ...], float, Sequence[Drawn], Mapping[str, str]]:
    """The marks of all views without captions and a key, their height, each view, and the names of the key."""
    layouts, listed = laid_out(views, sheet)
    drawn: list[Drawn] = []
    for each in zip(views, layouts, sheets_of(sheet, len(views)), strict=True):
        drawn.append(one_view(timeline, event, *each, bool(listed), drawn[0].large if drawn else ()))
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


def is_broad(event: Event, width_mm: float) -> bool:
    """Whether the picture of an event has two views, and so stands above the words and not beside them."""
    return len(_views(event, width_mm)) > 1


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


def _beside(views: Sequence[Stage], drawn: Sequence[Drawn], sheet: Sheet) -> tuple[tuple[Mark, ...], float]:
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
    text, size = say("Seen from the {view}", view=say(stage.choice.words)), words_size(sheet.width)
    rows = wrapped(text, size, (sheet.width - BETWEEN) * (1 - FIRST) - 2 * MARGIN, 2)
    return _centred(rows, size, middle, bottom - MARGIN - LEADING * size * len(rows), "view")


def _untold(event: Event, views: Sequence[Stage], drawn: Sequence[Drawn], lengths: LengthStyle | None) -> str:
    """That there are more measures than those drawn, if any are told at all."""
    return untold(views, event, {each for view in drawn for each in view.told}) if lengths is not None else ""


def _below(views: Sequence[Stage], width: float, more: str = "") -> tuple[str, ...]:
    """What is said below a picture: which faces are sanded or edged that look away, where clamps press unseen, and
    `more`."""
    faces = faces_away([(stage.show.cues, stage.look.view) for stage in views])
    ends = ends_away([(stage.show.cues, stage.show.pieces, stage.look.view) for stage in views])
    text = " ".join(filter(None, (faces, ends, more)))
    return tuple(wrapped(text, words_size(width), width - 2 * MARGIN, 2, len(text))) if text else ()


def _room(rows: Sequence[str], width: float) -> float:
    """How high that is, mm."""
    return GAP + len(rows) * LEADING * words_size(width) + MARGIN if rows else 0.0


def _centred(rows: Sequence[str], size: float, middle: float, top: float, layer: str) -> tuple[Mark, ...]:
    """Rows of words below a height."""
    first = top + (LEADING - 0.3) * size
    return tuple(
        Words((middle, first + LEADING * size * k), row, size, "middle", colour=LINE, layer=layer)
        for k, row in enumerate(rows)
    )
