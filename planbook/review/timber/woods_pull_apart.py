"""Two woods that move very differently are glued side by side over a wide joint."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import place_of
from planbook.review.grains import joints
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "TIM04",
    "woods-pull-apart",
    Severity.NOTE,
    "Two woods with parallel grain are glued flat, and one swells over a millimetre more than the other in a year.",
    "The joint creeps, and a step can be felt at it (Wood Handbook, Eq. 13-2, over 4 points of moisture content).",
    '[stock.panel]\nwood = "teak"\n\n[stock.back]\nwood = "beech"\n(glued over 200 mm)',
    '[stock.panel]\nwood = "teak"\n\n[stock.back]\nwood = "teak"\n(glued over 200 mm)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Joints in which one wood swells far more."""
    say, most, points = Say(timeline), limit("woods that pull apart"), limit("seasonal swing")
    for joint in joints(timeline):
        one, two = joint.swells(0, points), joint.swells(1, points)
        if one is None or two is None or any(joint.ends()) or joint.crossed() or not joint.solid_wood:
            continue
        if abs(one - two) > most:
            a, b = joint.members
            yield KIND.at(
                place_of(joint.event, "pieces"),
                f"step {joint.event.at.step} glues {a.wood} ({short(joint.pieces[0].name)}) to {b.wood}"
                f" ({short(joint.pieces[1].name)}), which move {say.length(abs(one - two))} apart in a year",
                label="two woods that move differently",
                notes=(f"the joint is {say.length(joint.across(0))} wide across the grain",),
            )
