"""A step sands with a coarser grit after a finer one."""

from collections.abc import Iterator
from itertools import pairwise

from planbook.review.grits import said_grits
from planbook.review.say import Say
from planbook.review.spoken import place_of_word
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP05",
    "back-to-coarser",
    Severity.WARNING,
    "A paragraph names a coarser grit after a finer one.",
    "Every grit only takes out the scratches of the one before; a coarser one afterwards puts them back.",
    "Sand with P180, then with P120.",
    "Sand with P120, then with P180.",
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Grits in the wrong order."""
    say = Say(timeline)
    for step in timeline.design.steps:
        wrong = [pair for grits in said_grits(timeline, step) for pair in pairwise(grits) if pair[1] < pair[0]]
        if wrong:
            first, then = wrong[0]
            yield KIND.at(
                place_of_word(timeline, step.number, f"P{then}"),
                f"step {step.number} {say.title(step.number)} names P{then} after the finer P{first}",
                label=f"coarser than P{first}",
            )
