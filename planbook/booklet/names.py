"""What a name in braces is printed as: a size in the edition's units, or a piece with a link to its row."""

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from planbook.booklet.editions import Edition
from planbook.model.sizes import folded
from planbook.takeoff import Lists, together
from planbook.workshop import Timeline


def step_anchor(number: int) -> str:
    """The id of a step in the booklet."""
    return f"step-{number}"


def piece_anchor(number: int) -> str:
    """The id of a piece's row in the booklet."""
    return f"piece-{number}"


@dataclass(frozen=True)
class Names:
    """Texts by folded name."""

    shown: Mapping[str, Markup | str]

    @classmethod
    def of(cls, timeline: Timeline, lists: Lists, edition: Edition) -> "Names":
        """The names of a build: a size comes before a piece of the list, and that before any other name."""
        design = timeline.design
        benches = (name for event in timeline.events for name in event.bench)
        plain = (*design.supplies, *design.tools, *design.stencils, *design.shapes, *timeline.pieces)
        plain = (*plain, *timeline.fates, *benches)
        shown: dict[str, Markup | str] = {folded(name): name for name in plain}
        link = Markup('<a class="piece" href="#{}">{}</a>')
        for group in together(lists.pieces):
            shown |= {folded(row.name): link.format(piece_anchor(group[0].number), row.name) for row in group}
        shown |= {folded(name): edition.quantity(value) for name, value in timeline.sizes.items()}
        return cls(shown)

    def resolve(self, name: str) -> Markup | str | None:
        """What is printed for a name, or None if there is no such name."""
        return self.shown.get(folded(name))
