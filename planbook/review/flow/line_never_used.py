"""A line or hole of a stencil that no operation works to; not one of a stencil that is not used at all."""

from collections.abc import Iterable, Iterator

from planbook.model import Operation, Stencil
from planbook.review.pointing import texts
from planbook.review.say import short
from planbook.review.written import STICKING, fields_of, named
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "FLO12",
    "line-never-used",
    Severity.WARNING,
    "A stencil has a line or a hole that no step works to.",
    "It is printed on the sheet, and the reader would cut or bore it.",
    '[stencils.front]\nlines = { outline = "arch", "way in" = "entry" }\n\n```saw\nlines = ["outline"]\n```',
    '[stencils.front]\nlines = { outline = "arch", "way in" = "entry" }\n\n'
    '```saw\nlines = ["outline"]\nentry = ["way in"]\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Lines and holes that are not worked to, of stencils that are."""
    for stencil in timeline.design.stencils.values():
        works = [
            op for op in timeline.design.operations if op.kind not in STICKING and stencil.name in named(op, "stencil")
        ]
        if not works:
            continue
        used = {name for op in works for name in _used(op, stencil, timeline)}
        for line in stencil.lines:
            if line.name not in used:
                headline = f"line {short(line.name)} of stencil {short(stencil.name)} is never used"
                yield KIND.at(line.place, headline, label="no step saws or sands to it")
        for hole in stencil.holes:
            if hole.name not in used:
                headline = f"hole {short(hole.name)} of stencil {short(stencil.name)} is never used"
                yield KIND.at(hole.place, headline, label="no step bores it")


def _used(operation: Operation, stencil: Stencil, timeline: Timeline) -> Iterable[str]:
    """The lines and holes that an operation works to; all of them where it was not carried out."""
    event = next((event for event in timeline.events if event.operation is operation), None)
    fields = fields_of(operation)
    if event is None or ("lines" in fields and fields["lines"] is None):
        yield from (line.name for line in stencil.lines)
    if event is None:
        yield from (hole.name for hole in stencil.holes)
    elif "holes" in fields:
        yield from dict(event.settings).get("holes", ())
    for node in fields.values():
        if node is not None:
            yield from texts(node)
