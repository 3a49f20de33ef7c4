"""Something that hangs on a wall or carries people says no load."""

from collections.abc import Iterator

from planbook.review.say import name_list
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SAF01",
    "no-load-stated",
    Severity.WARNING,
    "The design is made for the wall or as a seat, but does not say what it may carry.",
    "Only the maker knows what it was tried with; a reader will hang books on it, or stand on it.",
    'made_for = ["wall"]',
    'made_for = ["wall"]\nload = "12 kg, screwed into a stud"',
)
CARRYING = ("wall", "seat")


def check(timeline: Timeline) -> Iterator[Finding]:
    """Loads that nobody stated."""
    card = timeline.design.card
    carrying = [use for use in card.made_for if use in CARRYING]
    if carrying and not card.load.strip():
        yield KIND.at(
            card.made_for_place or card.place,
            f"`made_for` names {name_list(carrying, 'and')}, but the design states no `load`",
            label="how much may it carry?",
            hint='add a line such as `load = "12 kg"`, with what you tried it with',
        )
