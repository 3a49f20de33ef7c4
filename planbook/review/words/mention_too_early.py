"""Prose names a piece that only a later step makes."""

from collections.abc import Iterator

from planbook.review.mentions import missed
from planbook.review.pointing import narrowed
from planbook.review.say import Say, short
from planbook.text import Aside, Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "WOR03",
    "mention-too-early",
    Severity.ERROR,
    "A sentence speaks of a piece that only a later step makes.",
    "The reader looks for it on the bench in vain.",
    '## Sand\nSand the {lid}.\n\n## Saw the lid\nmakes = { lid = "inside" }',
    '## Saw the lid\nmakes = { lid = "inside" }\n\n## Sand\nSand the {lid}.',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Mentions of what is not made yet."""
    say = Say(timeline)
    for miss in missed(timeline):
        if miss.later is not None:
            name, later = miss.mention.name, miss.later.at
            headline = f"step {miss.step.number} speaks of {short(name)}, but only step {later.step} makes it"
            place = narrowed(later.place, name, timeline.design)
            also = (Aside(place, f"made here, in step {later.step} {say.title(later.step)}"),)
            yield KIND.at(miss.mention.place, headline, label="not on the bench yet", also=also)
