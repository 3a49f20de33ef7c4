"""A piece is too short for a table saw."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import CUTS, events_of, place_of, setting
from planbook.review.heights import beside_fence, longest
from planbook.review.holding import by_hand
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Piece, Timeline

KIND = Kind(
    "MAC10",
    "short-on-table-saw",
    Severity.WARNING,
    "A short piece is fed over a table saw: along the fence below 300 mm, or wider than it is long there; against the "
    "gauge below 150 mm.",
    "It leaves fence and gauge before it is past the blade, or turns off the fence, and is thrown back (common "
    "practice: 12 in and 6 in, and nothing wider than long along a fence).",
    '[tools.saw]\nkind = "table saw"\n\n```rip\npiece = "short board"\n```',
    '[tools.saw]\nkind = "band saw"\n\n```rip\npiece = "short board"\n```',
)
HINT = "saw it on a band saw, by hand, on a sled, or while it is still part of a longer board"


def check(timeline: Timeline) -> Iterator[Finding]:
    """Pieces that are too short for a table saw, or too short along its fence for their width."""
    for event, tool in by_hand(events_of(timeline, *CUTS), timeline, ("table saw",)):
        for piece in event.taken:
            found = _found(event, piece, short(tool.name), Say(timeline))
            if found:
                yield found


def _found(event: Event, piece: Piece, saw: str, say: Say) -> Finding | None:
    place = place_of(event, "piece", "pieces")
    fed = f"step {event.at.step} feeds {short(piece.name)}"
    fenced = setting(event, "fence") is not None
    along, across = beside_fence(event, piece) if fenced else (longest(piece), 0.0)
    least = limit(f"{'rip' if fenced else 'crosscut'} length on a table saw")
    if along < least - 1e-6:
        have, want = say.pair(along, least)
        where = "along the fence of" if fenced else "over"
        notes = (f"common practice is no less than {want}",)
        return KIND.at(place, f"{fed}, {have} long, {where} {saw}", label=f"{have} long", notes=notes, hint=HINT)
    if across > along + 1e-6:
        long, wide = say.pair(along, across)
        headline = f"{fed}, {wide} wide and {long} long, along the fence of {saw}"
        notes = ("what is wider than it is long turns off a fence",)
        return KIND.at(place, headline, label="wider than long along the fence", notes=notes, hint=HINT)
    return None
