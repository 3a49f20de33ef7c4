"""Days of work as bars: what is worked on when, and what rests meanwhile; it plans nothing."""

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass, fields

from planbook.drawing.ink import LINE, PAPER, QUIET
from planbook.drawing.lettering import RISE, width_of
from planbook.drawing.marks import Fill, Mark, Pen, Picture, Point, Ring, Stroke, Words, moved
from planbook.drawing.ordinates import spread
from planbook.solids.hatch import hatching
from planbook.speech import labelled, say

LABEL, EDGE = 19.0, 4.0
"""Width of the names of the days, and of the margin at the right, in which what runs on shows, mm."""
WORK, REST, GAP, BETWEEN = 5.8, 2.9, 0.7, 2.6
"""Heights of the bars of work and of rest, the gap between them, and the one between days, mm."""
TOP, FOOT = 5.5, 8.5
"""Room for the hours above and for the key below, mm."""
TYPE, SMALL = 2.8, 2.5
"""Type sizes, mm: 8 and 7 points."""
ABOVE, LEADER, APART = 1.9, 1.1, 0.9
"""Room above a day of which bars are too narrow for their numbers, the lines up to these, and between them, mm."""
BAND, DARK, SOFT, RULE = "#e9ede6", "#1d1d1b", "#66756f", "#c3cdc6"
HEAVY = 0.9
"""Width of the line along what decides when all is done, mm."""
HATCH = 1.1
OVER = 1.06
"""A picture may be so much higher than asked for where that saves another one for the last day or two."""


@dataclass(frozen=True, slots=True)
class WorkBar:
    """Work on a step, in minutes of the day; `marked` if it decides when all is done."""

    step: int
    start: float
    end: float
    marked: bool = False


@dataclass(frozen=True, slots=True)
class RestBar:
    """What rests after a step, in minutes of the day; before 0 it began earlier, after the day it runs on."""

    step: int
    start: float
    end: float
    marked: bool = False


@dataclass(frozen=True, slots=True)
class DayBars:
    """One day, its name and a second line under it, and its bars."""

    name: str
    note: str
    works: tuple[WorkBar, ...]
    rests: tuple[RestBar, ...]


@dataclass(frozen=True, slots=True)
class DayWords:
    """The words on the picture."""

    work: str = "work on the step with this number"
    rest: str = "its glue or finish rests: hands are free"
    marked: str = "dark: decides how long it takes"
    hour: str = "h"
    alt: str = "Work by days."

    @classmethod
    def spoken(cls) -> "DayWords":
        """The words in the language spoken."""
        return cls(**{f.name: say(str(f.default)) for f in fields(cls)})


def day_pictures(
    days: Sequence[DayBars], minutes: float, width: float, height: float, words: DayWords | None = None
) -> tuple[Picture, ...]:
    """The days one under the other, `minutes` of work wide; as many pictures as the height in mm asks for.

    A few days more than the height has room for are taken in as well, up to OVER; else no picture is much lower than
    another.
    """
    said = words or DayWords.spoken()
    scale = (width - LABEL - EDGE) / minutes
    parts = _parted(days, scale, height)
    if len(parts) > 1:
        fewest = len(_parted(days, scale, OVER * height))
        parts = _parted(days, scale, OVER * height) if fewest < len(parts) else _even(days, scale, height, len(parts))
    return tuple(_picture(part, minutes, width, _tall(part, scale), said) for part in parts)


def _even(days: Sequence[DayBars], scale: float, height: float, most: int) -> list[list[DayBars]]:
    """The days in at most so many parts of which the tallest is as low as can be."""
    heights = sorted({_tall(days[a:b], scale) for a in range(len(days)) for b in range(a + 1, len(days) + 1)})
    return next(parts for each in heights if len(parts := _parted(days, scale, min(each, height))) <= most)


def _parted(days: Sequence[DayBars], scale: float, height: float) -> list[list[DayBars]]:
    """The days in their order, each part as long as a height in mm has room for, but at least one day."""
    parts: list[list[DayBars]] = []
    for day in days:
        if parts and _tall([*parts[-1], day], scale) <= height:
            parts[-1].append(day)
        else:
            parts.append([day])
    return parts


def _tall(days: Sequence[DayBars], scale: float) -> float:
    """The height of a picture of days, mm."""
    return TOP + FOOT + sum(_above(day, scale) + _height(day) for day in days)


def _above(day: DayBars, scale: float) -> float:
    """The room for numbers above the bars of a day, mm."""
    return 0.0 if all(_size(bar, scale) for bar in day.works) else ABOVE


def _height(day: DayBars) -> float:
    lanes = max((lane for lane, _ in _laned(day.rests)), default=-1) + 1
    return WORK + lanes * (REST + GAP) + BETWEEN


def _picture(days: Sequence[DayBars], minutes: float, width: float, height: float, words: DayWords) -> Picture:
    scale = (width - LABEL - EDGE) / minutes
    marks = [*_hours(minutes, scale, height, words)]
    y = TOP
    drawn: list[Mark] = []
    for day in days:
        y += _above(day, scale)
        drawn += moved(_day(day, minutes, scale), 0.0, y)
        y += _height(day)
    # All at once, since hatching one bar takes as long as hatching fifty.
    marks += _hatch([m.points for m in drawn if isinstance(m, Stroke) and m.layer == "rest"], "rest")
    marks += drawn
    marks += moved(_key(words, any(day.rests for day in days)), LABEL, y + 1.2)
    return Picture(width, height, tuple(marks), " ".join((words.alt, *(f"{_told(day)}." for day in days))))


def _told(day: DayBars) -> str:
    """What is worked on, in words."""
    works = ", ".join(f"{say('step')} {bar.step}" for bar in day.works)
    return labelled(day.name, works or say("no work"))


def _hours(minutes: float, scale: float, height: float, words: DayWords) -> Iterator[Mark]:
    """The hours of work, counted from the start of the day's work."""
    every = next((step for step in (15, 30, 60, 120, 240) if step * scale >= 14), 480)
    for minute in range(0, int(minutes) + 1, every):
        x = LABEL + minute * scale
        part = {0: "", 15: "¼", 30: "½", 45: "¾"}[minute % 60]
        whole = str(minute // 60) if minute >= 60 or not part else ""
        yield Words((x, 2.6), f"{whole}{part} {words.hour}", SMALL, "middle", colour=QUIET, layer="hour")
        yield Stroke(((x, 3.6), (x, height - FOOT - BETWEEN + 0.6)), Pen(0.13, RULE), "hour")


def _day(day: DayBars, minutes: float, scale: float) -> Iterator[Mark]:
    yield Words((0.0, WORK / 2 + RISE * TYPE), day.name, TYPE, bold=True, layer="day")
    yield Fill((_box(LABEL, 0.0, LABEL + minutes * scale, WORK),), BAND, "band")
    if day.note:
        note = width_of(day.name, TYPE, bold=True) + 1.2
        lanes = _height(day) - BETWEEN > WORK + 1
        at = (0.0, WORK + REST * 0.75) if lanes or note > LABEL - 10 else (note, WORK / 2 + RISE * TYPE)
        yield Words(at, day.note, SMALL, colour=QUIET, layer="day")
    for bar in day.works:
        yield from _work(bar, scale)
    yield from _numbers_above([bar for bar in day.works if not _size(bar, scale)], minutes, scale)
    for lane, rest in _laned(day.rests):
        yield from _rest(rest, WORK + GAP + lane * (REST + GAP), minutes, scale)


def _work(bar: WorkBar, scale: float) -> Iterator[Mark]:
    left, right = LABEL + bar.start * scale, LABEL + bar.end * scale
    yield Fill((_box(left, 0.0, right, WORK),), DARK if bar.marked else SOFT, "work")
    yield Stroke(((left, 0.0), (left, WORK)), Pen(0.25, PAPER), "work")
    if bar.marked:
        yield Stroke(((left + HEAVY / 2, -HEAVY / 2), (right - HEAVY / 2, -HEAVY / 2)), Pen(HEAVY, LINE), "marked")
    if size := _size(bar, scale):
        at = ((left + right) / 2, WORK / 2 + RISE * size)
        yield Words(at, str(bar.step), size, "middle", bold=True, colour=PAPER, layer="step")


def _size(bar: WorkBar, scale: float) -> float:
    """The type size of the number in a bar, mm; 0 where it has no room."""
    room = (bar.end - bar.start) * scale - 0.5
    return next((s for s in (TYPE, SMALL) if width_of(str(bar.step), s, bold=True) <= room), 0.0)


def _numbers_above(bars: Sequence[WorkBar], minutes: float, scale: float) -> Iterator[Mark]:
    """The numbers of bars that are too narrow for them, side by side above their day, each with a line to its bar."""
    ordered = sorted(bars, key=lambda bar: bar.start)
    wide = max((width_of(str(bar.step), SMALL, bold=True) for bar in ordered), default=0.0) + APART
    middles = [LABEL + (bar.start + bar.end) / 2 * scale for bar in ordered]
    spots = spread(middles, wide, LABEL)
    beyond = max(spots[-1] - LABEL - minutes * scale, 0.0) if spots else 0.0
    for bar, middle, spot in zip(ordered, middles, spots, strict=True):
        yield Stroke(((middle, 0.0), (spot - beyond, -LEADER)), Pen(0.18, LINE), "step line")
        yield Words((spot - beyond, -LEADER - 0.2), str(bar.step), SMALL, "middle", bold=True, layer="step")


def _rest(bar: RestBar, y: float, minutes: float, scale: float) -> Iterator[Mark]:
    """A hatched bar with its number; its end is left open and pointed where it goes on."""
    first, last = max(bar.start, 0.0), min(bar.end, minutes)
    left, right, middle = LABEL + first * scale, LABEL + last * scale, y + REST / 2
    point = 1.6 if bar.end > minutes else 0.0
    outline: Ring = ((left, y), (right, y), (right + point, middle), (right, y + REST), (left, y + REST))
    yield Stroke(outline, Pen(0.18, LINE), "rest", closed=True)
    if bar.marked:
        yield Stroke(
            ((left + HEAVY / 2, y), (right - HEAVY / 2 if right - left > HEAVY else right, y)),
            Pen(HEAVY, LINE),
            "marked",
        )
    text = str(bar.step)
    wide = width_of(text, SMALL, bold=True) + 0.9
    if wide <= right - left:
        yield Fill((_box(left + 0.5, y + 0.25, left + 0.5 + wide, y + REST - 0.2),), PAPER, "step")
        at = (left + 0.5 + wide / 2, middle + RISE * SMALL)
        yield Words(at, text, SMALL, "middle", bold=True, layer="step")


def _hatch(outlines: Sequence[Ring], layer: str) -> Iterator[Mark]:
    for line in hatching([(outline, ()) for outline in outlines], HATCH):
        yield Stroke(line, Pen(0.13, LINE), layer)


def _hatched(outline: Ring, layer: str) -> Iterator[Mark]:
    yield from _hatch((outline,), layer)
    yield Stroke(outline, Pen(0.18, LINE), layer, closed=True)


def _laned(rests: Sequence[RestBar]) -> tuple[tuple[int, RestBar], ...]:
    """Bars of rest, each on the first line where it does not meet another."""
    ends: list[float] = []
    found = []
    for bar in sorted(rests, key=lambda each: (each.start, each.step)):
        lane = next((k for k, end in enumerate(ends) if end <= bar.start), len(ends))
        ends[lane : lane + 1] = [bar.end]
        found.append((lane, bar))
    return tuple(found)


def _key(words: DayWords, rests: bool) -> Iterator[Mark]:
    """The two bars, and both where they decide, explained in one row."""
    x, y = 0.0, 2.0
    yield Fill((_box(x, y, x + 7, y + 3),), SOFT, "key")
    yield Words((x + 3.5, y + 1.5 + RISE * SMALL), "1", SMALL, "middle", bold=True, colour=PAPER, layer="key")
    x = yield from _said(words.work, x + 8.2, y)
    if rests:
        yield from _hatched(_box(x, y, x + 7, y + 3), "key")
        x = yield from _said(words.rest, x + 8.2, y)
    yield Fill((_box(x, y - HEAVY, x + 3.5, y + 3),), DARK, "key")
    if rests:
        yield from _hatched(_box(x + 3.5, y, x + 7, y + 3), "key")
    else:
        yield Fill((_box(x + 3.5, y, x + 7, y + 3),), DARK, "key")
    yield Stroke(((x + HEAVY / 2, y - HEAVY / 2), (x + 7 - HEAVY / 2, y - HEAVY / 2)), Pen(HEAVY, LINE), "key")
    yield from _said(words.marked, x + 8.2, y)


def _said(text: str, x: float, y: float) -> Generator[Mark, None, float]:
    yield Words((x, y + 1.5 + RISE * SMALL), text, SMALL, layer="key")
    return x + width_of(text, SMALL) + 5.0


def _box(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))
