"""A small piece is routed by hand."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import place_of
from planbook.review.heights import longest
from planbook.review.holding import held_by_hand
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC18",
    "small-piece-routed",
    Severity.WARNING,
    "A piece shorter than 150 mm is routed, and the step does not say how it is held.",
    "The bit pulls it out of the fingers (common practice: nothing shorter than about 6 in is held by hand).",
    '```round over\npiece = "knob"\ntool = "router"\n```',
    '```round over\npiece = "knob"\ntool = "sanding block"\n```   (or before the knob is cut free)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Pieces that are too small to be routed by hand."""
    say, least = Say(timeline), limit("routed piece")
    for event, tool, piece in held_by_hand(timeline.events, timeline, ("router",)):
        if longest(piece) < least - 1e-6 and event.made:
            have = say.length(longest(piece))
            yield KIND.at(
                place_of(event, "piece", "pieces"),
                f"step {event.at.step} routs {short(piece.name)} with {short(tool.name)}, but it is only {have} long",
                label=f"only {have} long",
                hint="rout it before it is cut free, shape it by hand, or say in the step how it is held",
            )
