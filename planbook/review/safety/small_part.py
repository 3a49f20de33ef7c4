"""A toy for small children has a part that they could swallow."""

from collections.abc import Iterator

from planbook.review.say import Say, short
from planbook.review.swallowed import goes_into_cylinder
from planbook.text import Aside, Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SAF02",
    "small-part",
    Severity.ERROR,
    "Something made for small children has a loose part that goes into the small parts cylinder of 16 CFR 1501.4.",
    "The cylinder, 31.7 mm across and 25.4 to 57.1 mm deep, is a small child's throat: such a part chokes.",
    'made_for = ["small children"]\n(a loose peg of 20 mm)',
    'made_for = ["small children"]\n(a loose peg of 40 mm across)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Loose parts that are too small."""
    say, card = Say(timeline), timeline.design.card
    if "small children" not in card.made_for:
        return
    for piece in timeline.object:
        if goes_into_cylinder(piece.solid):
            made = timeline.pieces[piece.name].at
            yield KIND.at(
                card.made_for_place or card.place,
                f"`made_for` names `small children`, but {short(piece.name)} goes into the small parts cylinder:"
                f" it measures {say.box(piece.solid.extent)}",
                label="made for small children",
                also=(Aside(made.place, f"{short(piece.name)} is made here, in step {made.step}"),),
                hint="make the part larger than 31.7 mm across, or glue it in",
            )
