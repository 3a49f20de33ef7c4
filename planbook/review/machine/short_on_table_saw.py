"""A piece is too short for a table saw."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import CUTS, FENCED, events_of, place_of
from planbook.review.heights import longest
from planbook.review.holding import by_hand
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC10",
    "short-on-table-saw",
    Severity.WARNING,
    "A short piece is fed over a table saw: along the fence below 300 mm, against the gauge below 150 mm.",
    "It leaves fence and gauge before it is past the blade, and is thrown back (common practice: 12 in and 6 in).",
    '[tools.saw]\nkind = "table saw"\n\n```rip\npiece = "short board"\n```',
    '[tools.saw]\nkind = "band saw"\n\n```rip\npiece = "short board"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Pieces that are too short for a table saw."""
    say = Say(timeline)
    for event, tool in by_hand(events_of(timeline, *CUTS), timeline, ("table saw",)):
        way = "rip" if event.operation.kind in FENCED else "crosscut"
        least = limit(f"{way} length on a table saw")
        for piece in event.taken:
            if longest(piece) < least - 1e-6:
                have, want = say.pair(longest(piece), least)
                where = "along the fence of" if way == "rip" else "over"
                yield KIND.at(
                    place_of(event, "piece", "pieces"),
                    f"step {event.at.step} feeds {short(piece.name)}, {have} long, {where} {short(tool.name)}",
                    label=f"{have} long",
                    notes=(f"common practice is no less than {want}",),
                    hint="saw it on a band saw, by hand, on a sled, or while it is still part of a longer board",
                )
