"""The finest abrasive is too coarse for a finish."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import events_of
from planbook.review.grits import listed_grits
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP08",
    "coarse-before-finish",
    Severity.WARNING,
    "A finish is put on, but the finest abrasive of the design is coarser than P120.",
    "Its scratches show through the finish (common practice).",
    '[supplies.paper]\nkind = "abrasive"\nproduct = "P80"\n\n```finish\nfinish = "oil"\n```',
    '[supplies.paper]\nkind = "abrasive"\nproduct = "P150"\n\n```finish\nfinish = "oil"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Scratches that the finish will show."""
    grits, least = listed_grits(timeline), limit("grit before a finish")
    first = next(events_of(timeline, "finish"), None)
    if grits and first is not None and grits[-1][0] < least:
        grit, supply = grits[-1]
        yield KIND.at(
            supply.place,
            f"supply {short(supply.name)} is the finest abrasive, P{grit}, but step {first.at.step} puts a finish on",
            label=f"coarser than P{least:.0f}",
            hint=f"add a finer abrasive, P{least:.0f} or above",
        )
