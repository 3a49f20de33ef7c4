"""A small piece is held to a sanding machine."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import place_of
from planbook.review.heights import longest
from planbook.review.holding import held_by_hand
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC19",
    "small-piece-on-disc",
    Severity.WARNING,
    "A piece no longer than 50 mm is held to a disc or drum sander, and the step does not say how.",
    "The abrasive snatches it and takes the fingertips (published safety rules of schools: 2 in).",
    '```sand face\npiece = "peg"\ntool = "disc"\n```',
    '```sand face\npiece = "peg"\ntool = "sanding board"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Pieces that are too small for a sanding machine."""
    say, margin = Say(timeline), limit("finger margin")
    for event, tool, piece in held_by_hand(timeline.events, timeline, ("disc sander", "drum sander")):
        if longest(piece) < margin:
            have = say.length(longest(piece))
            yield KIND.at(
                place_of(event, "piece", "pieces"),
                f"step {event.at.step} sands {short(piece.name)} on {short(tool.name)}, but it is only {have} long",
                label=f"only {have} long",
                hint="sand it by hand on a flat board, or say in the step how it is held",
            )
