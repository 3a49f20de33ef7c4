"""A sawn curve is so tight that the blade binds in it."""

from collections.abc import Iterator

from planbook.review.cuts import place_of
from planbook.review.say import Say, short
from planbook.review.turning import HARD, Tight, spot_on, tight_curves
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC01",
    "curve-too-tight",
    Severity.ERROR,
    "A sawn curve is less than half as wide as the blade follows: its back binds in the kerf.",
    "A blade w wide and t thick turns a radius of w² / 4 (k - t) in a kerf k; at half of that it binds and breaks.",
    '[tools.blade]\nwidth = "1/2 in"\nkerf = "1.2 mm"\n(a curve of 12 mm)',
    '[tools.blade]\nwidth = "1/8 in"\nkerf = "1.2 mm"\n(a curve of 12 mm)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Curves in which the blade binds."""
    say = Say(timeline)
    for tight in tight_curves(timeline):
        if tight.bend.radius < HARD * tight.least:
            yield told(KIND, tight, "binds in", say)


def told(kind: Kind, tight: Tight, verb: str, say: Say) -> Finding:
    """The finding about a tight curve."""
    radius, least = say.pair(tight.bend.radius, tight.least)
    notes = [f"the curve is {spot_on(tight.bend.at, say)}; the radius is that of the middle of the kerf"]
    if tight.others:
        notes.append(f"{tight.others} more of this line {'is' if tight.others == 1 else 'are'} too tight for it")
    tool, line = short(tight.tool.name), short(tight.bend.line)
    return kind.at(
        place_of(tight.event, "blade"),
        f"step {tight.event.at.step}: {tool} {verb} a curve of {radius} in line {line}; it follows {least}",
        label=f"follows a radius of {least}",
        notes=notes,
        hint="take a narrower blade, draw the curve wider, or bore a relief hole into it first",
    )
