"""Too many teeth are in the wood."""

from collections.abc import Iterator
from math import floor

from planbook.handbook import limit
from planbook.review.cuts import CUTS, events_of, place_of
from planbook.review.heights import heights, powered, teeth
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC12",
    "many-teeth",
    Severity.WARNING,
    "More than 24 teeth of a band are in the wood at a time.",
    "Their gullets fill with dust: the cut is slow, burns and wanders (the three-tooth rule of blade makers).",
    '[tools.saw]\nkind = "band saw"\nteeth_per_inch = 14\n(in wood of 120 mm: 66 teeth)',
    '[tools.saw]\nkind = "band saw"\nteeth_per_inch = 4\n(in wood of 120 mm: 19 teeth)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Cuts with too many teeth in the wood, however it is laid."""
    say, most = Say(timeline), limit("teeth in the wood, most")
    for event in events_of(timeline, *CUTS):
        tool = powered(event, timeline, "band saw")
        for piece in event.taken if tool else ():
            tall = heights(event, piece)
            count = teeth(tool, tall[0]) if tool and tall else None
            if tool and tall and count is not None and count > most:
                yield KIND.at(
                    place_of(event, "blade"),
                    f"step {event.at.step}: {count:.0f} teeth of {short(tool.name)} are in {short(piece.name)},"
                    f" which is {say.length(tall[0])} tall",
                    label=f"{count:.0f} teeth in the wood",
                    hint=f"take a blade of {floor(10 * most * 25.4 / tall[0]) / 10:g} or fewer teeth per inch",
                )
