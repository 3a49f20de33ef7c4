"""A step speaks of a machine that the design does not list."""

from collections.abc import Iterator

from planbook.review.say import Say, short
from planbook.review.spoken import place_of_word
from planbook.review.spoken_of import MACHINES, spoken_of
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP10",
    "tool-not-listed",
    Severity.NOTE,
    "A step speaks of a machine of which the design lists none.",
    "The list of tools does not have it, and its cautions are not printed.",
    "Trim it on the table saw.   (and no table saw in the design)",
    'Trim it on the table saw.\n\n[tools."table saw"]\nkind = "table saw"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Machines that only the prose knows."""
    say = Say(timeline)
    kinds = {tool.kind for tool in timeline.design.tools.values()}
    names = " ".join(timeline.design.tools).lower()
    seen: set[str] = set()
    for step in timeline.design.steps:
        for word, kind in spoken_of(timeline, step.number, MACHINES):
            if kind in kinds or kind in seen or word.lower() in names:
                continue
            seen.add(kind)
            yield KIND.at(
                place_of_word(timeline, step.number, word),
                f"step {step.number} {say.title(step.number)} speaks of a {short(kind)}, but the design lists none",
                label="not in the list of tools",
                hint=f'add it: `[tools."{kind}"]`, or let the step name the tool it works with',
            )
