"""A narrow part of a sawn piece has its grain running across it."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import events_of, place_of_name
from planbook.review.say import Say, short
from planbook.review.strands import Strand, weak
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Timeline

KIND = Kind(
    "TIM01",
    "short-grain",
    Severity.WARNING,
    "A part of a sawn piece is less than 6 mm wide along the grain and much longer across it, or hangs on 3 mm.",
    "It snaps off along the grain as soon as it is touched (common practice: 1/4 in).",
    '[stock.board]\ngrain = "x"\n\n```slice\nface = "left"\nthickness = "2 mm"\n```   (a strip of end grain)',
    '[stock.board]\ngrain = "x"\n\n```slice\nface = "top"\nthickness = "2 mm"\n```   (its grain runs along it)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Parts that snap off."""
    say, least = Say(timeline), limit("short grain")
    for event in events_of(timeline, "saw", "slice"):
        for strand in weak(event, timeline, least):
            yield _finding(event, strand, say)


def _finding(event: Event, strand: Strand, say: Say) -> Finding:
    wide, long = say.length(strand.wide), say.length(strand.long)
    return KIND.at(
        place_of_name(event, strand.piece, say.timeline, "makes", "stencil"),
        f"step {event.at.step}: {short(strand.piece)} is only {wide} wide along the grain over {long}",
        label="snaps off along the grain",
        notes=(f"near {say.spot(strand.where)}; it is thinner than {say.length(limit('short grain'))}",),
        hint="turn the grain of the board, cut the part from another side, or make it wider",
    )
