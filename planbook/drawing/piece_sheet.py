"""A piece in three views with every dimension needed to make it, at a scale of ISO 5455; no list of pieces."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from planbook.drawing.bored_later import Spot
from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Mark, Picture, Stroke, Words
from planbook.drawing.measured import Measured, measured
from planbook.drawing.ordinates import STEP, below, beside
from planbook.drawing.piece_figures import MOST, crowded, gap_for, places, reach, too_many
from planbook.drawing.piece_notes import NOTE, NOTE_LINE, SheetWords, lettered, noted, rounds_told
from planbook.drawing.piece_views import (
    SCALES,
    WIDER,
    Angle,
    View,
    centres,
    edges_of,
    height_of,
    laid_out,
    scale_for,
    scale_text,
    symbol,
)
from planbook.drawing.rounded import AXES, Rounded
from planbook.drawing.tipped import tipped, tipped_spots
from planbook.solids import Solid
from planbook.speech import say
from planbook.units import LengthStyle

TALLER, SMALL = 1.7, 0.1
"""A piece drawn SMALL or smaller, or whose figures are crowded, gets so much more height if that draws it larger."""
SPARE_ROWS = 1
"""So many rows of notes stand below the height asked for, so that a longer note makes no drawing smaller."""
_SYMBOL = 18.0
"""From the end of the scale to the notes, with the symbol of the angle between them, mm."""


def roomy_sheet(
    name: str,
    solid: Solid,
    usual: tuple[float, float],
    slim: tuple[float, float],
    style: LengthStyle,
    angle: Angle,
    more: Sequence[str] = (),
    steps: Mapping[Spot, int] = MappingProxyType({}),
    words: SheetWords | None = None,
) -> Picture:
    """The sheet in the slim one of two rooms (width and height, mm) where it is drawn as large and tells as much there.

    So a piece has the same scale on every paper.
    """
    wide = piece_sheet(name, solid, *usual, style, angle, words, more, steps)
    tried = piece_sheet(name, solid, *slim, style, angle, words, more, steps)
    return tried if (tried.alt, tried.missing) == (wide.alt, wide.missing) else wide


def piece_sheet(
    name: str,
    solid: Solid,
    width_mm: float,
    height_mm: float,
    style: LengthStyle,
    angle: Angle,
    words: SheetWords | None = None,
    more: Sequence[str] = (),
    steps: Mapping[Spot, int] = MappingProxyType({}),
) -> Picture:
    """Front, top and side view with measures from the lower left corner; mm of paper. No marks for nothing.

    It is no higher than asked for, but for a second row of notes; of a piece that would be too small, up to TALLER
    times that. What `more` there is to say comes after the notes of holes and radii; `steps` are those of
    `rounds_told`. What is missing are the sides along which places are left out.

    Each place is dimensioned once: along x under the front view, along z beside it, along y beside the top view. Where
    that draws it larger, the piece is tipped with its top to the front, and a note says so.
    """
    words = words or SheetWords.spoken()
    if not min(measured(solid).size, default=0.0) > 0:
        return Picture(width_mm, 0.0, (), "")
    room = (width_mm, height_mm)
    plan = _planned(solid, room, style, angle, words, more, steps)
    wide, deep, high = solid.extent
    if scale_for((wide, high, deep), width_mm, TALLER * height_mm, (0.0, 0.0)) > plan.scale:
        other = _planned(tipped(solid), room, style, angle, words.tipped(), more, tipped_spots(steps, solid))
        plan = max(plan, other, key=lambda each: each.scale)
    return _drawn(name, plan, width_mm, style, angle)


@dataclass(frozen=True, slots=True)
class _Plan:
    """A piece as it is laid, what is said of it, how large it is drawn, the height there is for that, and margins."""

    solid: Solid
    words: SheetWords
    told: tuple[str, ...]
    letters: Mapping[str, Sequence[Rounded]]
    start: float
    scale: float
    room: float
    margin: tuple[float, float]


def _planned(
    solid: Solid,
    room: tuple[float, float],
    style: LengthStyle,
    angle: Angle,
    words: SheetWords,
    more: Sequence[str],
    steps: Mapping[Spot, int],
) -> _Plan:
    """How large a piece is drawn as it is laid, in a room of so much width and height."""
    facts, (width, height) = measured(solid), room
    rounds, letters = rounds_told(facts, style, words, angle, steps)
    told = (*words.laid, *rounds, *more)
    start = width_of(words.scale.format(scale=scale_text(SCALES[-1])), NOTE, bold=True) + _SYMBOL
    many = [len(facts.places[axis]) > MOST for axis in AXES]
    _, rows = noted([*told, *_left_out(facts, many, words)], width, start)
    low = 1.5 + NOTE_LINE * max(len(rows) - SPARE_ROWS, 1)
    margin = (reach(facts, (1, 2), style), reach(facts, (0,), style))
    scale, high = _scale(facts, width, height - low, TALLER * height - low, margin)
    return _Plan(solid, words, told, letters, start, scale, high, margin)


def _drawn(name: str, plan: _Plan, width: float, style: LengthStyle, angle: Angle) -> Picture:
    solid, words, scale, margin = plan.solid, plan.words, plan.scale, plan.margin
    facts = measured(solid)
    gap = gap_for(facts, scale, angle, style, WIDER + plan.room - height_of(facts.size, scale, margin))
    views, low = laid_out(solid.bounds[0], facts.size, scale, width, angle, margin, gap)
    marks: list[Mark] = []
    for view in views:
        marks += edges_of(solid, view)
        marks += centres(facts, view)
    figures, left_out = _figures(facts, views, style, int((low - margin[1]) / STEP) + 1)
    marks += figures
    marks += lettered(plan.letters, facts.size, views, [mark.points for mark in marks if isinstance(mark, Stroke)])
    said = words.scale.format(scale=scale_text(scale))
    y = low + NOTE_LINE
    marks.append(Words((0.0, y), said, NOTE, bold=True, layer="words"))
    marks += symbol(width_of(said, NOTE, bold=True) + 4.0, y, angle)
    x, rows = noted([*plan.told, *_left_out(facts, left_out, words)], width, plan.start)
    ends = [(x, y + NOTE_LINE * n) for n, _ in enumerate(rows)]
    marks += [Words(at, row, NOTE, layer="words") for at, row in zip(ends, rows, strict=True) if row]
    alt = words.alt.format(name=name, scale=scale_text(scale))
    missing = tuple(side for side, less in zip(words.sides, left_out, strict=True) if less)
    return Picture(width, round(y + NOTE_LINE * (len(rows) - 1) + 1.0, 2), tuple(marks), alt, missing)


def _scale(
    facts: Measured, width: float, usual: float, taller: float, margin: tuple[float, float]
) -> tuple[float, float]:
    """The scale, and the height there is for it: more than the usual one where that draws a piece legibly."""
    one, two = (scale_for(facts.size, width, height, margin) for height in (usual, taller))
    if (one <= SMALL and two >= 2 * one) or (two > one and crowded(facts, one)):
        return two, taller
    return one, usual


def _figures(
    facts: Measured, views: Sequence[View], style: LengthStyle, room: int
) -> tuple[tuple[Mark, ...], tuple[bool, ...]]:
    """The rows of measures below and beside the views, and along which axes they leave something out.

    Beside the views there is room for so many figures; if they are more, the longer row keeps its ends alone.
    """
    front, top = views[0], views[1]
    tall, deep = places(facts, 2, front, style), places(facts, 1, top, style)
    less = [too_many(facts, axis, front.paper.scale) for axis in AXES]
    if len(tall) + len(deep) > room:
        longer = max(tall, deep, key=len)
        longer[:] = [place for place in longer if place.whole or place.text == "0"]
        less[2 if longer is tall else 1] = True
    lowest = max(views[:2], key=lambda view: view.low[1])
    both = sorted((*tall, *deep), key=lambda place: place.at)
    rows = (*below(places(facts, 0, front, style), lowest.low[1]), *beside(both, front.low[0]))
    return rows, tuple(less)


def _left_out(facts: Measured, axes: Sequence[bool], words: SheetWords) -> list[str]:
    many = [side for side, less in zip(words.sides, axes, strict=True) if less]
    said = [words.by_stencil.format(sides=say(" and ").join(many))] if many else []
    return [*said, words.freeform] if facts.freeform else said
