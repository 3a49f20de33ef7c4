"""A band saw's blade is to get to a line through a hole."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, place_of
from planbook.review.heights import powered
from planbook.review.say import Say, short
from planbook.review.ways_in import enclosed
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC05",
    "blade-not-threaded",
    Severity.ERROR,
    "The blade of a band saw is to start in a hole in the middle of the wood.",
    "A band is welded into a ring: it comes in from the edge. The blades of scroll and coping saws can be threaded.",
    '[tools.saw]\nkind = "band saw"\n\n```saw\nlines = ["opening"]\n```   (with a hole bored in the opening)',
    '[tools.saw]\nkind = "scroll saw"\n\n```saw\nlines = ["opening"]\n```   (with a hole bored in the opening)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Lines that a band cannot get to."""
    say = Say(timeline)
    for event in events_of(timeline, "saw"):
        tool = powered(event, timeline, "band saw")
        for found in enclosed(event) if tool else ():
            spot = say.spot(found.each.stuck.frame.world(*found.kerf.middle))
            piece, blade = short(found.each.piece.name), short(tool.name if tool else "")
            yield KIND.at(
                place_of(event, "stencil"),
                f"step {event.at.step} saws inside {piece} with {blade}, a band saw, whose blade cannot be threaded"
                " through a hole",
                label="no way in from the edge",
                notes=(f"the cut is near {spot}",),
                hint="name an `entry` from the edge, or saw it with a scroll saw or a coping saw",
            )
