"""A tool is listed that no step uses."""

from collections.abc import Iterator

from planbook.review.listed import idle
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP01",
    "tool-never-used",
    Severity.WARNING,
    "A tool is in the design, but no step uses it or speaks of it.",
    "It would stand in the list of tools, and the reader would get it for nothing.",
    '[tools.router]\nkind = "router"\n(no step with it)',
    '[tools.router]\nkind = "router"\n\n```round over\ntool = "router"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """What is listed for nothing."""
    for each in idle(timeline.design.tools, "tool", timeline):
        headline = f"tool {short(each.name)} is listed, but no step uses it"
        yield KIND.at(each.place, headline, label="never used", hint="use it in a step, speak of it, or take it out")
