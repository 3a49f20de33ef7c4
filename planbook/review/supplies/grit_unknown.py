"""An abrasive has a grit that is not made."""

from collections.abc import Iterator

from planbook.handbook import abrasive, abrasives
from planbook.review.grits import GRADE
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP06",
    "grit-unknown",
    Severity.WARNING,
    "An abrasive is named by a grit that the FEPA series does not have.",
    "The reader looks for it in the shop in vain: there is no P230, for one (ISO 6344).",
    '[supplies.fine]\nkind = "abrasive"\nproduct = "P230"',
    '[supplies.fine]\nkind = "abrasive"\nproduct = "P240"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Grits that do not exist."""
    for supply in timeline.design.supplies.values():
        product = (supply.product or supply.name).strip()
        if supply.kind != "abrasive" or not GRADE.fullmatch(product) or abrasive(product) is not None:
            continue
        wanted = int("".join(char for char in product if char.isdigit())[:9])
        near = sorted(abrasives().values(), key=lambda row: abs(row.grit - wanted))[:2]
        names = " or ".join(f"`P{row.grit}`" for row in sorted(near, key=lambda row: row.grit))
        yield KIND.at(
            supply.place,
            f"supply {short(supply.name)} is {short(product)}, a grit that is not made",
            label="no such grit",
            hint=f"did you mean {names}?",
        )
