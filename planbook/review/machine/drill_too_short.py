"""A hole is deeper than the drill reaches."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, place_of
from planbook.review.heights import powered
from planbook.review.holes import deepest
from planbook.review.lengths import length_of
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC15",
    "drill-too-short",
    Severity.ERROR,
    "A hole is deeper than the drill reaches.",
    "The chuck meets the wood before the hole is done.",
    '[tools.drill]\ncapacity = "40 mm"\n\n```bore\ndepth = "55 mm"\n```',
    '[tools.drill]\ncapacity = "60 mm"\n\n```bore\ndepth = "55 mm"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Holes that the drill is too short for."""
    say = Say(timeline)
    for event in events_of(timeline, "bore", "dowel holes", "fit hardware", "counterbore"):
        tool = powered(event, timeline, "drill")
        reach = length_of(tool.capacity, timeline) if tool else None
        if tool is None or reach is None:
            continue
        for piece in event.taken:
            deep = deepest(event, piece)
            if deep is not None and deep > reach + 1e-6:
                want, have = say.pair(deep, reach)
                yield KIND.at(
                    place_of(event, "depth", "drill"),
                    f"step {event.at.step} bores {want} deep into {short(piece.name)} with {short(tool.name)},"
                    f" which reaches {have}",
                    label=f"the drill reaches {have}",
                    hint="take a longer drill, or bore from both sides",
                )
