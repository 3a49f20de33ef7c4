"""Curves too tight for a blade, and blades that cannot turn at all; each rule judges its own share of the cuts."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from planbook.model import Tool
from planbook.review.bends import Bend, Sawn, curves, sawn
from planbook.review.cuts import events_of, least_radius, tool_of, turning_width
from planbook.review.lengths import length_of
from planbook.review.say import Say
from planbook.workshop import Event, Timeline

SLACK = 0.8
"""Published tables differ from the formula by up to a fifth; less than that is no finding."""
HARD = 0.5
"""Below half the least radius the body of the blade bears on both walls of its kerf: it binds."""


@dataclass(frozen=True, eq=False, slots=True)
class Tight:
    """The tightest curve of a line, which the blade does not follow freely; `least` is the radius that it follows, mm.

    `others` counts the other curves of the line that are too tight for it.
    """

    event: Event
    sawn: Sawn
    tool: Tool
    bend: Bend
    least: float
    others: int


@lru_cache(maxsize=1)
def tight_curves(timeline: Timeline) -> tuple[Tight, ...]:
    """The tightest curve of every line that is tighter than its blade follows, beyond the slack."""
    return tuple(each for event in events_of(timeline, "saw") for each in _of(event, timeline))


def _of(event: Event, timeline: Timeline) -> Iterator[Tight]:
    tool = tool_of(event, timeline)
    least = least_radius(tool, timeline) if tool else None
    if tool is None or least is None:
        return
    width = length_of(tool.width, timeline) or 0.0
    room = width**2 / (8 * least)
    for each in sawn(event):
        runs = (*each.lines, *each.entries)
        # A bend that turns only a little is over before the back of the blade comes to it.
        found = [
            bend
            for run in runs
            for bend in curves(run, SLACK * least)
            if width / 2 * math.sin(min(bend.turn, math.pi) / 2) > room
        ]
        for line in dict.fromkeys(bend.line for bend in found):
            bends = [bend for bend in found if bend.line == line]
            yield Tight(event, each, tool, min(bends, key=lambda b: b.radius), least, len(bends) - 1)


def unturning(timeline: Timeline) -> Iterator[tuple[Event, Sawn, str, float]]:
    """Each cut along lines with a band that cannot turn on the spot: its name, and how wide it is, mm."""
    for event in events_of(timeline, "saw"):
        tool = tool_of(event, timeline)
        width = turning_width(tool, timeline) if tool else None
        if tool is not None and width is not None:
            yield from ((event, each, tool.name, width) for each in sawn(event))


def spot_on(at: tuple[float, float], say: Say) -> str:
    """Where a point of a stencil is, counted from its origin."""
    u, v = at
    across = f"{say.length(abs(u))} to the {'right' if u >= 0 else 'left'}"
    return f"{across} and {say.length(abs(v))} {'up' if v >= 0 else 'down'} from the origin of the stencil"
