"""A step has an operation, but no prose."""

from collections.abc import Iterator

from planbook.review.say import name_list
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "WOR06",
    "step-without-words",
    Severity.WARNING,
    "A step has an operation and says nothing about it.",
    "The picture shows what is done; how it is done well and safely takes words.",
    '## Saw the outline\n\n```saw\npiece = "blank"\n```',
    '## Saw the outline\n\nKeep outside the line.\n\n```saw\npiece = "blank"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Steps with operations and without prose."""
    for step in timeline.design.steps:
        if step.operations and not step.prose:
            kinds = name_list(dict.fromkeys(operation.kind for operation in step.operations), "and")
            headline = f'step {step.number} "{step.title}" does {kinds} without a word of instruction'
            yield KIND.at(
                step.place, headline, label="no prose below it", hint="say how it is done, in a sentence or two"
            )
