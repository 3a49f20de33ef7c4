"""Prose names a piece that an earlier step has used up."""

from collections.abc import Iterator

from planbook.model import Step
from planbook.review.mentions import missed
from planbook.review.pointing import narrowed
from planbook.review.say import Say, meant, short
from planbook.text import Aside, Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "WOR02",
    "mention-used-up",
    Severity.ERROR,
    "A sentence speaks of a piece that an earlier step sawed up, glued into another one, or threw away.",
    "The reader has no such thing on the bench any more; it has another name now.",
    '## Glue the sides\nmakes = "side"\n\n## Sand\nSand the {left cheek}.',
    '## Glue the sides\nmakes = "side"\n\n## Sand\nSand the {side}.',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Mentions of what is gone."""
    say = Say(timeline)
    for miss in missed(timeline):
        if miss.used is None:
            continue
        name, used = miss.mention.name, miss.used
        made = tuple(piece.name for piece in used.made)
        what = say.used_up(used.operation.kind, made)
        bench = _bench(miss.step, timeline)
        yield KIND.at(
            miss.mention.place,
            f"step {miss.step.number} speaks of {short(name)}, but step {used.at.step} {what}",
            label="not on the bench any more",
            also=(
                Aside(
                    narrowed(used.at.place, name, timeline.design),
                    f"used up here, in step {used.at.step} {say.title(used.at.step)}",
                ),
            ),
            hint=meant(say.heirs(name, made, bench)),
        )


def _bench(step: Step, timeline: Timeline) -> tuple[str, ...]:
    """The pieces on the bench when a step begins."""
    before = [event for event in timeline.events if event.at.step < step.number]
    return tuple(before[-1].bench) if before else ()
