"""A round or curved piece is sawn that does not lie on the table under the cut."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import POWERED, events_of, place_of
from planbook.review.heights import EDGEWISE, powered, support
from planbook.review.say import Say, short
from planbook.review.spoken import speaks_of
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC13",
    "nothing-under-the-cut",
    Severity.WARNING,
    "A round or curved piece does not lie flat on the table under the cut, and the step does not say what holds it.",
    "The teeth pull it down or roll it: the band breaks and the hand goes with the work.",
    'Saw the disc in two.\n\n```trim\npiece = "standing disc"\nface = "left"\n```',
    'Lay the disc in a V-block and saw it in two.\n\n```trim\npiece = "standing disc"\nface = "left"\n```',
)
HELD_UP = (
    "cradle",
    "v-block",
    "v block",
    "wedge",
    "support",
    "sled",
    "carrier",
    "bed it",
    "offcut",
    "carried",
    "flat board",
)
"""Words of a step that say what a curved piece lies on."""
ROLLS = 0.1
"""A piece whose best side is flat over less than this share of its outline does not stand by itself."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Cuts with no table under them."""
    say = Say(timeline)
    for event in events_of(timeline, "saw", *EDGEWISE):
        tool = powered(event, timeline, *POWERED)
        if tool is None or speaks_of(timeline, event.at.step, HELD_UP):
            continue
        free_hand = event.operation.kind == "saw"
        least = limit("wood under the cut") if free_hand else ROLLS
        for piece in event.taken:
            share = support(event, piece)
            if share is not None and share < least:
                yield KIND.at(
                    place_of(event, "piece", "pieces"),
                    f"step {event.at.step} saws {short(piece.name)} with {short(tool.name)},"
                    f" but {_where(share, free_hand)}",
                    label="rocks on the table" if free_hand else "no flat side to stand on",
                    notes=(f"it measures {say.box(piece.solid.extent)}",),
                    hint="say in the step what it lies in: a cradle, a V-block, or the offcut that it was sawn from",
                )


def _where(share: float, free_hand: bool) -> str:
    if not free_hand:
        return "none of the sides that it can stand on is flat"
    return f"the wood lies on the table under only {share:.0%} of the cut"
