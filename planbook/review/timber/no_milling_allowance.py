"""A rough board is hardly larger than it is to be."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.rough import rough_sides
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "TIM06",
    "no-milling-allowance",
    Severity.WARNING,
    "A rough board leaves less than milling takes: 2 mm of thickness, 3 mm of width, 6 mm of length.",
    "A rough board is cupped, bowed and split at its ends (common practice; sheet goods are bought flat).",
    '[stock.board]\nsize = ["200 mm", "20 mm", "90 mm"]\nrough = ["210 mm", "21 mm", "95 mm"]',
    '[stock.board]\nsize = ["200 mm", "20 mm", "90 mm"]\nrough = ["210 mm", "25 mm", "95 mm"]',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Boards with too little to mill off."""
    say = Say(timeline)
    for side in rough_sides(timeline):
        least = limit(f"milling {side.what}")
        left = side.rough - side.size
        if not side.sheet and -1e-6 <= left < least - 1e-6:
            have, want = say.pair(left, least)
            yield KIND.at(
                side.place,
                f"board {short(side.board)} leaves {have} of its {side.what} to mill off, where {want} is usual",
                label=f"{have} to mill off",
            )
