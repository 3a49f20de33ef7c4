"""A stencil of the design is never stuck on anything."""

from collections.abc import Iterator

from planbook.review.say import short
from planbook.review.written import named_anywhere
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "FLO10",
    "stencil-never-stuck",
    Severity.WARNING,
    "A stencil is in the design, but no step sticks it on.",
    "It would be printed, and the reader would not know what to do with it.",
    '[stencils.outline]\n...\n(no block with `stencil = "outline"`)',
    '[stencils.outline]\n...\n```stick\npiece = "board"\nstencil = "outline"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Stencils that no operation names."""
    used = named_anywhere(timeline, "stencil")
    for stencil in timeline.design.stencils.values():
        if stencil.name not in used:
            headline = f"stencil {short(stencil.name)} is never stuck on a piece"
            yield KIND.at(stencil.place, headline, label="printed for nothing", hint="use it in a step, or take it out")
