"""Too few teeth are in the wood."""

from collections.abc import Iterator
from math import ceil

from planbook.handbook import limit
from planbook.review.cuts import CUTS, POWERED, events_of, place_of
from planbook.review.heights import heights, powered, teeth
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC11",
    "few-teeth",
    Severity.WARNING,
    "Fewer than three teeth of the blade are in the wood at a time.",
    "A tooth hooks the wood instead of cutting it (the three-tooth rule of blade makers).",
    '[tools.saw]\nkind = "band saw"\nteeth_per_inch = 4\n(in wood of 12 mm: 1.9 teeth)',
    '[tools.saw]\nkind = "band saw"\nteeth_per_inch = 10\n(in wood of 12 mm: 4.7 teeth)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Cuts with too few teeth in the wood, however it is laid."""
    say, least = Say(timeline), limit("teeth in the wood, least")
    for event in events_of(timeline, *CUTS):
        tool = powered(event, timeline, *POWERED)
        for piece in event.taken if tool else ():
            tall = heights(event, piece)
            count = teeth(tool, tall[1]) if tool and tall else None
            if tool and tall and count is not None and count < least:
                yield KIND.at(
                    place_of(event, "blade"),
                    f"step {event.at.step}: only {count:.1f} teeth of {short(tool.name)} are in {short(piece.name)},"
                    f" which is {say.length(tall[1])} tall",
                    label=f"{count:.1f} teeth in the wood",
                    hint=f"take a blade of {ceil(least * 25.4 / tall[1])} or more teeth per inch",
                )
