"""What a name in braces is printed as: a size in the edition's units, or a piece with a link to its row."""

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from planbook.booklet.editions import Edition
from planbook.model.sizes import folded
from planbook.speech import called
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
    """Texts by folded name, the ids of those that have a row, and which of them are sizes."""

    shown: Mapping[str, str]
    anchors: Mapping[str, str]
    sizes: frozenset[str]

    @classmethod
    def of(cls, timeline: Timeline, lists: Lists, edition: Edition) -> "Names":
        """The names of a build: a size comes before a piece of the list, and that before any other name."""
        design = timeline.design
        benches = (name for event in timeline.events for name in event.bench)
        drawn = (*design.stencils, *design.shapes, *design.line_names)
        plain = (*design.supplies, *design.tools, *drawn, *timeline.pieces, *timeline.fates, *benches)
        shown = {folded(name): called(name) for name in plain}
        anchors: dict[str, str] = {}
        for group in together(lists.pieces):
            shown |= {folded(row.name): called(row.name) for row in group}
            anchors |= {folded(row.name): piece_anchor(group[0].number) for row in group}
        sizes = {folded(name): edition.quantity(value) for name, value in timeline.sizes.items()}
        return cls(shown | sizes, anchors, frozenset(sizes))

    def resolve(self, mention: str) -> Markup | str | None:
        """What is printed for a name, or None if there is no such name.

        `left cheek|linken Wange` bends the name as its sentence needs it; a size is always printed as it measures.
        """
        name, _, form = (part.strip() for part in mention.partition("|"))
        key = folded(name)
        if key not in self.shown:
            return None
        text = self.shown[key] if not form or key in self.sizes else form
        if key in self.anchors and key not in self.sizes:
            return Markup('<a class="piece" href="#{}">{}</a>').format(self.anchors[key], text)
        return text
