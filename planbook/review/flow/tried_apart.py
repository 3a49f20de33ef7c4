"""A piece is tried with others that are nowhere near it."""

from collections.abc import Iterator, Sequence

from planbook.handbook import limit
from planbook.review.cuts import events_of, place_of
from planbook.review.say import Say, name_list
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Piece, Timeline

KIND = Kind(
    "FLO17",
    "tried-apart",
    Severity.WARNING,
    "A step tries pieces together without glue, and one of them lies far from all others.",
    "Nothing is tried with a piece that touches nothing: it may lie in the wrong place, or belong to another step.",
    '```dry fit\npieces = ["case", "lid"]\n```   (the lid lies 80 mm beside the case)',
    '```dry fit\npieces = ["case", "lid"]\nmoves  = { lid = ["-80 mm", "0 mm", "0 mm"] }\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Pieces of a dry fit that lie further from the nearest other one than the limit of the handbook."""
    say, most = Say(timeline), limit("apart in a dry fit")
    for event in events_of(timeline, "dry fit"):
        solid = [piece for piece in event.made if not piece.solid.empty]
        apart = [piece.name for piece in solid if len(solid) > 1 and not _near(piece, solid, most)]
        if apart:
            yield KIND.at(
                place_of(event, "pieces"),
                f"step {event.at.step} tries {name_list(apart, 'and')} where no other piece lies within "
                f"{say.length(most)}",
                label="lies apart",
                hint="say with `moves` how far it goes to its place, or leave it out of this step",
            )


def _near(piece: Piece, among: Sequence[Piece], most: float) -> bool:
    """Whether another piece lies within so many mm; boxes that are further apart need no closer look."""
    (low, high), others = piece.solid.bounds, [other for other in among if other is not piece]
    boxes = [(other, other.solid.bounds) for other in others]
    close = [
        other for other, (at, to) in boxes if all(at[k] - high[k] <= most and low[k] - to[k] <= most for k in range(3))
    ]
    return any(piece.solid.gap(other.solid, 2 * most) <= most for other in close)
