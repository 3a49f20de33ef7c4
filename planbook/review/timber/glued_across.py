"""Solid wood is glued flat across the grain of other solid wood, over a wide joint."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import place_of
from planbook.review.grains import joints
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "TIM02",
    "glued-across",
    Severity.WARNING,
    "Two pieces of solid wood are glued flat with their grain crossed, over more than 75 mm.",
    "Each moves across its grain with the seasons and not along it: the joint shears or the wood splits.",
    '[stock.panel]\ngrain = "x"\n\n[stock.batten]\ngrain = "z"\n(glued over 200 mm)',
    '[stock.panel]\ngrain = "x"\n\n[stock.batten]\ngrain = "x"\n(glued over 200 mm)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Joints in which the woods fight."""
    say, most, points = Say(timeline), limit("cross-grain joint"), limit("seasonal swing")
    for joint in joints(timeline):
        wide = max(joint.across(0), joint.across(1))
        if joint.solid_wood and joint.crossed() and wide > most:
            side = 0 if joint.across(0) >= joint.across(1) else 1
            moves = joint.swells(side, points)
            one, two = (short(piece.name) for piece in joint.pieces)
            note = (
                f"over a year {short(joint.pieces[side].name)} moves about {say.length(moves)} there" if moves else ""
            )
            yield KIND.at(
                place_of(joint.event, "pieces"),
                f"step {joint.event.at.step} glues {one} and {two} with their grain crossed, over {say.length(wide)}",
                label="the grain is crossed",
                notes=(note,) if note else (),
                hint="let the grain of both run the same way, or hold one by screws in slots, or use plywood",
            )
