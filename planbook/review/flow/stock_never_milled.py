"""A board of the stock that no step brings to the bench."""

from collections.abc import Iterator

from planbook.review.say import short
from planbook.review.written import named_anywhere
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline
from planbook.workshop.patterns import matching

KIND = Kind(
    "FLO13",
    "stock-never-milled",
    Severity.WARNING,
    "A board is in the design, but no step mills it.",
    "It would be bought and never used, or a step is missing.",
    '[stock.left]\n...\n[stock.right]\n...\n```mill\nboards = ["left"]\n```',
    '[stock.left]\n...\n[stock.right]\n...\n```mill\nboards = ["left", "right"]\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Boards that no operation names."""
    milled = named_anywhere(timeline, "stock names")
    for board in timeline.design.stock.values():
        names = (board.name, board.batch) if board.batch else (board.name,)
        if not any(matching(pattern, names) for pattern in milled):
            headline = f"board {short(board.name)} is never milled"
            yield KIND.at(board.place, headline, label="bought for nothing", hint="mill it in a step, or take it out")
