"""Two grits that follow one another are far apart."""

from collections.abc import Iterator
from itertools import pairwise

from planbook.handbook import limit
from planbook.review.grits import left_out, listed_grits
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP04",
    "grits-far-apart",
    Severity.NOTE,
    "Between two abrasives of the design more than one grade of the FEPA series is left out.",
    "The finer grit takes for ever to get the scratches of the coarser one out (rule of the trade).",
    '[supplies.coarse]\nproduct = "P80"\n\n[supplies.fine]\nproduct = "P180"',
    '[supplies.coarse]\nproduct = "P120"\n\n[supplies.fine]\nproduct = "P180"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Gaps in the row of grits."""
    grits = listed_grits(timeline)
    for (coarse, _), (fine, supply) in pairwise(grits):
        between = left_out(coarse, fine)
        if len(between) > limit("grits left out"):
            names = ", ".join(f"P{grit}" for grit in between)
            yield KIND.at(
                supply.place,
                f"supply {short(supply.name)}: from P{coarse} to P{fine} leaves out {names}",
                label=f"the next after P{coarse}",
                hint=f"add one of {names}",
            )
