"""A step has neither prose nor an operation."""

from collections.abc import Iterator

from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "WOR05",
    "step-empty",
    Severity.ERROR,
    "A step has a heading and nothing below it.",
    "The reader would turn the page and find nothing to do.",
    "## Sand the lid\n\n## Oil the lid\n\nWipe on the oil.",
    "## Oil the lid\n\nWipe on the oil.",
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Steps without any part."""
    for step in timeline.design.steps:
        if not step.parts:
            headline = f'step {step.number} "{step.title}" is empty: no prose and no operation'
            yield KIND.at(step.place, headline, label="nothing follows")
