"""A sharp corner is sawn with a blade that cannot turn there."""

from collections.abc import Iterator

from planbook.review.bends import Bend, Run, Sawn, corners
from planbook.review.beside import waste_beside
from planbook.review.cuts import place_of
from planbook.review.say import Say, short
from planbook.review.turning import spot_on, unturning
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Timeline

KIND = Kind(
    "MAC03",
    "corner-too-sharp",
    Severity.WARNING,
    "A band has to turn a sharp corner on the spot: both sides are kept, and no cut reaches it from elsewhere.",
    "A blade turns in waste, in a hole as wide as it is, or meets a second cut that comes in from the edge.",
    '```saw\nlines = ["square opening"]\nmakes = { drawer = "inside", case = "outside" }\n```',
    "(corners of the opening drawn round, or bored with a drill as wide as the blade)",
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Corners that a band cannot turn."""
    say = Say(timeline)
    for event, each, tool, width in unturning(timeline):
        for run in each.lines:
            stuck = [b for b in _stuck_in(run) if not waste_beside(event, each, b, timeline)]
            if stuck:
                yield _finding(event, each, stuck, tool, width, say)


def _stuck_in(run: Run) -> list[Bend]:
    """The corners of a run that no straight way in reaches from both sides."""
    found = list(corners(run))
    # From two open ends the blade comes to one corner twice; a second corner lies behind the first.
    return [] if not run.closed and len(found) == 1 else found


def _finding(event: Event, each: Sawn, stuck: list[Bend], tool: str, width: float, say: Say) -> Finding:
    count = "a sharp corner" if len(stuck) == 1 else f"{len(stuck)} sharp corners"
    wide, line = say.length(width), short(stuck[0].line)
    return KIND.at(
        place_of(event, "lines", "stencil"),
        f"step {event.at.step} saws {count} in line {line} with {short(tool)}, which is {wide} wide and cannot turn"
        " there",
        label="both sides are kept",
        notes=(f"one is {spot_on(stuck[0].at, say)}",),
        hint=f"draw the corner round, or bore a relief hole of {wide} or more where the blade has to turn",
    )
