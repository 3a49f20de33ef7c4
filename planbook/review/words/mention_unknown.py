"""Prose names something that does not exist in the design."""

from collections.abc import Iterator

from planbook.review.mentions import missed
from planbook.review.say import meant, short
from planbook.text import Finding, Kind, Severity
from planbook.units import near
from planbook.workshop import Timeline

KIND = Kind(
    "WOR01",
    "mention-unknown",
    Severity.ERROR,
    "A `{name}` in prose is neither a piece nor a size, nor anything else in the design.",
    "It would be printed with its braces, and mean nothing to the reader.",
    "Clamp the {blnk} to the bench.",
    "Clamp the {blank} to the bench.",
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Mentions of nothing."""
    design = timeline.design
    drawn = (*design.stencils, *design.line_names, *design.shapes)
    known = (*timeline.pieces, *design.sizes, *drawn, *design.tools, *design.supplies)
    for miss in missed(timeline):
        if miss.used is None and miss.later is None:
            name = miss.mention.name
            headline = f"step {miss.step.number} speaks of {short(name)}, but nothing in the design is called that"
            yield KIND.at(miss.mention.place, headline, label="no such name", hint=meant(near(name, known)))
