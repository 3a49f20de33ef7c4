"""A supply is listed that no step uses."""

from collections.abc import Iterator

from planbook.review.listed import idle
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP02",
    "supply-never-used",
    Severity.WARNING,
    "A supply is in the design, but no step uses it or speaks of it.",
    "It would stand in the list of supplies, and the reader would buy it for nothing.",
    '[supplies.oil]\nkind = "finish"\n(no step with it)',
    '[supplies.oil]\nkind = "finish"\n\n```finish\nfinish = "oil"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """What is listed for nothing."""
    for each in idle(timeline.design.supplies, "supply", timeline):
        headline = f"supply {short(each.name)} is listed, but no step uses it"
        yield KIND.at(each.place, headline, label="never used", hint="use it in a step, speak of it, or take it out")
