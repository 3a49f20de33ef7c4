"""A joint is glued on end grain alone."""

from collections.abc import Iterator

from planbook.review.cuts import place_of
from planbook.review.grains import joints
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Piece, Timeline

KIND = Kind(
    "TIM03",
    "end-grain-glued",
    Severity.WARNING,
    "Two pieces are glued end to end, or an end to a side, with nothing but glue in the joint.",
    "End grain drinks the glue: such joints cannot be made strong enough for ordinary use (USDA Wood Handbook).",
    '[stock.left]\ngrain = "x"\n\n[stock.right]\ngrain = "x"\n\n```glue\nalong = "x"\n```',
    '[stock.left]\ngrain = "z"\n\n[stock.right]\ngrain = "z"\n\n```glue\nalong = "x"\n```',
)
HELD = ("dowel holes", "mortise", "tenon", "groove", "dado", "rabbet", "fit hardware")
"""Work on a piece that gives a joint more than its end to hold by."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Joints that only the glue of an end holds."""
    say = Say(timeline)
    for joint in joints(timeline):
        ends = joint.ends()
        if not joint.solid_wood or not any(ends) or any(_worked(piece, timeline) for piece in joint.pieces):
            continue
        one, two = (short(piece.name) for piece in joint.pieces)
        how = "end to end" if all(ends) else "the end of one to the side of the other"
        wide = say.length(max(joint.across(0), joint.across(1)))
        yield KIND.at(
            place_of(joint.event, "pieces"),
            f"step {joint.event.at.step} glues {one} and {two} {how}, with nothing else to hold them",
            label="only end grain",
            notes=(f"the joint is {wide} wide",),
            hint="add dowels, a spline or screws, or let the pieces lie side by side",
        )


def _worked(piece: Piece, timeline: Timeline) -> bool:
    """Whether there is a joint cut in a piece, or in one that it was made from."""
    names, pending = set(), [piece.name]
    while pending:
        name = pending.pop()
        if name not in names:
            names.add(name)
            made = timeline.pieces.get(name)
            pending += made.sources if made else ()
    events = (event for event in timeline.events if event.operation.kind in HELD)
    return any(taken.name in names for event in events for taken in event.taken)
