"""A piece is too small to be held at a powered saw."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import CUTS, POWERED, events_of, place_of
from planbook.review.heights import longest
from planbook.review.holding import held_by_hand
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC09",
    "too-small-to-hold",
    Severity.WARNING,
    "A piece is sawn that is no longer than fingers keep from a blade, and the step does not say how it is held.",
    "Schools teach to keep 2 in (50.8 mm) from a blade: such a piece cannot be held by hand at all.",
    '[stock.block]\nsize = ["40 mm", "20 mm", "40 mm"]\n\n```saw\npiece = "block"\n```',
    'Clamp the block in a wooden hand screw.\n\n```saw\npiece = "block"\n```   (or saw it before it is cut to length)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Pieces that are too small to be held."""
    say, margin = Say(timeline), limit("finger margin")
    for event, tool, piece in held_by_hand(events_of(timeline, *CUTS), timeline, POWERED):
        if longest(piece) < margin:
            have = say.length(longest(piece))
            yield KIND.at(
                place_of(event, "piece", "pieces"),
                f"step {event.at.step} saws {short(piece.name)} with {short(tool.name)}, but it is only {have} long",
                label=f"only {have} long",
                notes=(f"fingers stay {say.length(margin)} from a blade (published safety rules of schools)",),
                hint="cut it free later, saw it by hand, or say in the step how it is clamped",
            )
