"""Names in the prose of steps that are no piece on the bench there, and no other name of the design."""

from collections.abc import Iterator
from dataclasses import dataclass

from planbook.model import Mention, Step, prose_in_all
from planbook.model.sizes import folded
from planbook.review.bench import Benches
from planbook.review.written import follows_broken, names_of_broken
from planbook.workshop import Event, Timeline


@dataclass(frozen=True)
class Missed:
    """A mention with no such thing on the bench: the event that used it up before, or makes it later, or neither."""

    mention: Mention
    step: Step
    used: Event | None = None
    later: Event | None = None


def missed(timeline: Timeline) -> Iterator[Missed]:
    """Mentions of pieces that are not there; nothing is said of pieces that a broken operation leaves unknown."""
    silent = always(timeline) | {folded(name) for name in names_of_broken(timeline)}
    benches = Benches(timeline)
    for step in timeline.design.steps:
        mentions = [mention for prose in prose_in_all(timeline.design, step) for mention in prose.mentions]
        there = benches.of(step) if mentions else set()
        for mention in mentions:
            name = folded(mention.name)
            if name not in silent and name not in there and not follows_broken(mention.name, timeline):
                yield _missed(mention, step, benches)


def always(timeline: Timeline) -> set[str]:
    """Names that may be written in any step: sizes, shapes, stencils and their lines, tools and supplies, folded."""
    design = timeline.design
    tables = (design.sizes, design.shapes, design.stencils, design.line_names, design.tools, design.supplies)
    return {folded(name) for table in tables for name in table}


def _missed(mention: Mention, step: Step, benches: Benches) -> Missed:
    name = folded(mention.name)
    used = benches.gone(name, step)
    return Missed(mention, step, used, None if used else benches.made(name))
