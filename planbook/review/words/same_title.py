"""Two steps have the same title."""

from collections.abc import Iterator

from planbook.model import Step
from planbook.model.sizes import folded
from planbook.text import Aside, Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "WOR07",
    "same-title",
    Severity.WARNING,
    "Two steps have the same title.",
    "In the table of contents and in a question from a buyer nobody can tell them apart.",
    "## Wait\n...\n## Wait",
    "## Wait for the blank\n...\n## Wait for the lid",
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Every step whose title an earlier one has."""
    first: dict[str, Step] = {}
    for step in timeline.design.steps:
        title = folded(step.title)
        earlier = first.setdefault(title, step)
        if title and earlier is not step:
            headline = f'step {step.number} has the same title as step {earlier.number}: "{step.title}"'
            also = (Aside(earlier.place, f"step {earlier.number}"),)
            yield KIND.at(step.place, headline, label="the same again", also=also)
