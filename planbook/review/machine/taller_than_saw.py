"""The work is taller than the saw takes."""

from collections.abc import Iterator

from planbook.review.cuts import CUTS, events_of, place_of, tool_of
from planbook.review.heights import heights
from planbook.review.lengths import length_of
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC07",
    "taller-than-saw",
    Severity.ERROR,
    "The wood is taller under the blade than the saw takes, however it is laid.",
    "It does not go under the guide, or the blade does not come through.",
    '[tools.saw]\nkind = "band saw"\ncapacity = "150 mm"\n(a blank 160 mm tall)',
    '[tools.saw]\nkind = "band saw"\ncapacity = "165 mm"\n(a blank 160 mm tall)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Cuts that the saw is too small for."""
    say = Say(timeline)
    for event in events_of(timeline, *CUTS):
        tool = tool_of(event, timeline)
        most = length_of(tool.capacity, timeline) if tool else None
        if tool is None or most is None:
            continue
        for piece in event.taken:
            tall = heights(event, piece)
            if tall is not None and tall[0] > most + 1e-6:
                have, takes = say.pair(tall[0], most)
                yield KIND.at(
                    place_of(event, "blade"),
                    f"step {event.at.step} saws {short(piece.name)}, which is {have} tall, with {short(tool.name)},"
                    f" which takes {takes}",
                    label=f"takes {takes}",
                )
