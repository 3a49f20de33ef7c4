"""A sawn curve is tighter than the blade follows freely."""

from collections.abc import Iterator

from planbook.review.machine.curve_too_tight import told
from planbook.review.say import Say
from planbook.review.turning import HARD, tight_curves
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC02",
    "curve-tight",
    Severity.WARNING,
    "A sawn curve is tighter than the blade follows freely, though it does not quite bind.",
    "It burns and wanders. The least radius, w² / 4 (k - t), is within a fifth of the tables of blade makers.",
    '[tools.blade]\nwidth = "1/4 in"\nkerf = "1.2 mm"\n(a curve of 12 mm)',
    '[tools.blade]\nwidth = "3/16 in"\nkerf = "1.2 mm"\n(a curve of 12 mm)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Curves that are tight, but not so tight that the blade binds."""
    say = Say(timeline)
    for tight in tight_curves(timeline):
        if tight.bend.radius >= HARD * tight.least:
            yield told(KIND, tight, "is forced through", say)
