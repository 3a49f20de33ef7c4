"""Nothing is there at the end; not where an operation broke, for then nobody knows."""

from collections.abc import Iterator

from planbook.review.written import broken
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "FLO07",
    "nothing-finished",
    Severity.ERROR,
    "When all steps are done there is no finished object.",
    "A plan is sold for what it makes.",
    '## Mill the board\n\n```mill\nboards = ["plank"]\n```\n\n```discard\npieces = ["plank"]\n```',
    '## Mill the board\n\n```mill\nboards = ["plank"]\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """One finding at the last step."""
    steps = timeline.design.steps
    if timeline.object or broken(timeline) or not steps:
        return
    kept = [name for name, fate in timeline.fates.items() if fate.ending == "kept"]
    gone = "everything is set aside or thrown away" if timeline.events else "no step has an operation"
    yield KIND.at(
        steps[-1].place,
        f"nothing is finished after step {steps[-1].number}, the last one: {gone}",
        label="the build ends here",
        hint="end with an `assemble` block that names what belongs to the object" if kept else "",
    )
