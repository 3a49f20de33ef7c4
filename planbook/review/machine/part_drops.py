"""A part so small is sawn free that it drops beside the blade."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import CUTS, POWERED, events_of, place_of_name, thrown_away
from planbook.review.heights import longest
from planbook.review.holding import by_hand
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC14",
    "part-drops",
    Severity.WARNING,
    "A part that is needed is sawn free so small that it falls into the opening beside the blade.",
    "It jams the blade or is gone, and fingers go after it (common practice: nothing below about 3/4 in).",
    '```saw\nmakes = { peg = "inside", rest = "outside" }\n```   (a peg of 12 mm)',
    'Hold the peg with double-sided tape on a board.\n\n```saw\nmakes = { peg = "inside", rest = "outside" }\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Parts that drop away."""
    say, least = Say(timeline), limit("part that drops")
    for event, tool in by_hand(events_of(timeline, *CUTS), timeline, POWERED, ("tape", "insert")):
        for piece in event.made:
            if longest(piece) < least and not thrown_away(piece, event, timeline):
                have = say.length(longest(piece))
                yield KIND.at(
                    place_of_name(event, piece.name, timeline, "makes", "offcut", "piece", "pieces"),
                    f"step {event.at.step} saws {short(piece.name)} free with {short(tool.name)}: at {have} it drops"
                    " beside the blade",
                    label=f"only {have} long",
                    hint="say in the step how it is held, or saw it free by hand",
                )
