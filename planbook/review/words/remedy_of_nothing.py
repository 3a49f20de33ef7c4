"""A remedy names a piece, or something else in braces, that the design does not have."""

from collections.abc import Iterator

from planbook.model.sizes import folded
from planbook.review.mentions import always
from planbook.review.say import meant, short
from planbook.review.written import broken
from planbook.text import Finding, Kind, Severity
from planbook.units import near
from planbook.workshop import Timeline

KIND = Kind(
    "WOR09",
    "remedy-of-nothing",
    Severity.ERROR,
    "A remedy is about a piece that is never made, or has a `{name}` of nothing in the design.",
    "The reader would be sent to something that is not there.",
    '[remedies.sticks]\npiece = "drawr"',
    '[remedies.sticks]\npiece = "drawer"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Pieces and names of remedies that are nowhere; nothing is said while an operation could not be carried out."""
    if broken(timeline):
        return
    pieces = dict.fromkeys((*timeline.pieces, *timeline.fates, *(n for e in timeline.events for n in e.bench)))
    made = {folded(name) for name in pieces}
    known = made | always(timeline)
    design = timeline.design
    spelled = (*pieces, *design.sizes, *design.stencils, *design.tools, *design.supplies, *design.shapes)
    for remedy in design.remedies.values():
        if remedy.piece and remedy.piece_place and folded(remedy.piece) not in made:
            headline = f"remedy {short(remedy.name)} is about {short(remedy.piece)}, but no piece is called that"
            hint = meant(near(remedy.piece, tuple(pieces)))
            yield KIND.at(remedy.piece_place, headline, label="no such piece", hint=hint)
        for mention in (each for prose in remedy.prose for each in prose.mentions):
            if folded(mention.name) not in known:
                said = f"remedy {short(remedy.name)} speaks of {short(mention.name)}"
                hint = meant(near(mention.name, spelled))
                headline = f"{said}, but nothing in the design is called that"
                yield KIND.at(mention.place, headline, label="no such name", hint=hint)
