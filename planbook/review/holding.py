"""Work on a machine in a step that does not say how the piece is held; how small is too small is each rule's own."""

from collections.abc import Iterable, Iterator

from planbook.model import Tool
from planbook.review.heights import powered
from planbook.review.spoken import speaks_of
from planbook.workshop import Event, Piece, Timeline

HELD = (
    "clamp",
    "hand screw",
    "handscrew",
    "jig",
    "sled",
    "carrier",
    "double-sided",
    "vice",
    "vise",
    "push block",
    "held",
)
"""Words of a step that say how a small piece is held."""


def by_hand(
    events: Iterable[Event], timeline: Timeline, machines: Iterable[str], more: Iterable[str] = ()
) -> Iterator[tuple[Event, Tool]]:
    """The events at machines of these kinds whose step has no word of how it is held, nor one `more`."""
    for event in events:
        tool = powered(event, timeline, *machines)
        if tool is not None and not speaks_of(timeline, event.at.step, (*HELD, *more)):
            yield event, tool


def held_by_hand(
    events: Iterable[Event], timeline: Timeline, machines: Iterable[str]
) -> Iterator[tuple[Event, Tool, Piece]]:
    """The same for each piece that goes to the machine."""
    for event, tool in by_hand(events, timeline, machines):
        yield from ((event, tool, piece) for piece in event.taken)
