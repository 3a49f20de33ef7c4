"""A finish goes on something for small children or food, and nobody says that it may."""

import re
from collections.abc import Iterator

from planbook.review.cuts import events_of
from planbook.review.say import name_list, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SAF03",
    "finish-not-stated-safe",
    Severity.WARNING,
    "Something made for small children or food is finished, and the note of the finish does not say that it may be.",
    "It is sucked or eaten from. Only the label tells: EN 71-3 or ASTM F963 for toys, food contact for boards.",
    'made_for = ["small children"]\n\n[supplies.oil]\nkind = "finish"',
    'made_for = ["small children"]\n\n[supplies.oil]\nkind = "finish"\nnote = "one whose label names EN 71-3"',
)
TOLD = {
    "small children": re.compile(r"EN ?71|F ?963|16 CFR|toy", re.IGNORECASE),
    "food": re.compile(r"food", re.IGNORECASE),
}
"""What a note must speak of, by what the design is made for."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Finishes of which nobody says that they are fit."""
    uses = [use for use in timeline.design.card.made_for if use in TOLD]
    used = dict.fromkeys(use.name for event in events_of(timeline, "finish") for use in event.uses)
    for name in used if uses else ():
        supply = timeline.design.supplies.get(name)
        if supply is None:
            continue
        open_uses = [use for use in uses if not TOLD[use].search(supply.note)]
        if open_uses:
            asked = "EN 71-3 or ASTM F963" if "small children" in open_uses else "food contact"
            yield KIND.at(
                supply.place,
                f"supply {short(name)} finishes something made for {name_list(open_uses, 'and')}, and its `note` does"
                " not say that it may",
                label="fit for that?",
                hint=f"say in its `note` that the label must name {asked}",
            )
