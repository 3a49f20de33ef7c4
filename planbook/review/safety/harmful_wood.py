"""Something for small children or food is made of a wood that is known to do harm."""

from collections.abc import Iterator

from planbook.handbook import wood
from planbook.review.say import name_list, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline
from planbook.workshop.pieces import woods

KIND = Kind(
    "SAF04",
    "harmful-wood",
    Severity.WARNING,
    "Something made for small children or for food is made of a wood with a strong reaction.",
    "Woods such as iroko, rosewood or western red cedar sensitise skin and airways (American Woodturner, June 1990).",
    'made_for = ["small children"]\n\n[stock.block]\nwood = "iroko"',
    'made_for = ["small children"]\n\n[stock.block]\nwood = "sugar maple"',
)
STRONG = ("+++", "++++")
TOUCHED = ("small children", "food")


def check(timeline: Timeline) -> Iterator[Finding]:
    """Woods that should not be sucked or eaten from."""
    uses = [use for use in timeline.design.card.made_for if use in TOUCHED]
    used = {name for piece in timeline.object for name in woods(piece)} if uses else set()
    said: set[str] = set()
    for board in timeline.design.stock.values():
        row = wood(board.wood)
        # Maple does harm only when it is spalted, which nobody puts in a toy unsaid.
        if row is None or row.dust_potency not in STRONG or "spalted" in row.dust or board.wood not in used:
            continue
        if row.name not in said:
            said.add(row.name)
            yield KIND.at(
                board.wood_place,
                f"`made_for` names {name_list(uses, 'and')}, but board {short(board.name)} is {row.name}, whose dust"
                f" {row.dust}",
                label="a strong reaction",
                hint="take a wood without one, such as maple or ash",
            )
