"""A blade is to be threaded through a hole that it does not fit."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, place_of
from planbook.review.heights import powered
from planbook.review.lengths import length_of
from planbook.review.say import Say, short
from planbook.review.ways_in import enclosed
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC06",
    "hole-narrower-than-blade",
    Severity.ERROR,
    "The hole through which a blade is threaded is narrower than the blade is wide.",
    "The blade does not go in.",
    '[tools.saw]\nkind = "hand saw"\nwidth = "3 mm"\n(into a hole of 2 mm)',
    '[tools.saw]\nkind = "hand saw"\nwidth = "3 mm"\n(into a hole of 4 mm)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Holes that are too small for the blade."""
    say = Say(timeline)
    for event in events_of(timeline, "saw"):
        tool = powered(event, timeline, "scroll saw", "hand saw")
        width = length_of(tool.width, timeline) if tool else None
        if tool is None or width is None:
            continue
        for found in enclosed(event):
            if 0 < found.hole < width - 1e-6:
                have, want = say.pair(found.hole, width)
                piece = short(found.each.piece.name)
                yield KIND.at(
                    place_of(event, "blade"),
                    f"step {event.at.step} threads {short(tool.name)}, {want} wide, through a hole of {have} in"
                    f" {piece}",
                    label=f"{want} wide",
                    hint=f"bore a hole of {want} or more",
                )
