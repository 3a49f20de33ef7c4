"""A board is rough-sawn smaller than it is to be."""

from collections.abc import Iterator

from planbook.review.rough import rough_sides
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "TIM05",
    "rough-too-small",
    Severity.ERROR,
    "The rough size of a board is smaller than its finished size.",
    "Milling takes wood away.",
    '[stock.board]\nsize = ["200 mm", "20 mm", "90 mm"]\nrough = ["190 mm", "25 mm", "95 mm"]',
    '[stock.board]\nsize = ["200 mm", "20 mm", "90 mm"]\nrough = ["210 mm", "25 mm", "95 mm"]',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Boards that come out too small."""
    say = Say(timeline)
    for side in rough_sides(timeline):
        if side.rough < side.size - 1e-6:
            have, want = say.pair(side.rough, side.size)
            yield KIND.at(
                side.place,
                f"board {short(side.board)} is {have} along {side.axis} when rough, less than its finished {want}",
                label=f"finished: {want}",
            )
