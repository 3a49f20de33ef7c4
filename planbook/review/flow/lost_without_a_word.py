"""A guard: something could not be carried out, and no rule says what; it words nothing that another rule does."""

from collections.abc import Iterator

from planbook.review.registry import rules
from planbook.review.rule import Told
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline, Trouble

KIND = Kind(
    "FLO16",
    "lost-without-a-word",
    Severity.ERROR,
    "The build could not carry out an operation, and no other finding says why.",
    "A plan must not pass as sound when part of it was never built. Please report it: the program lacks a rule.",
    '```saw\npiece = "lid"\n```   (which cannot be carried out, for a reason that nothing words)',
    '```saw\npiece = "lid"\n```   (which can be carried out)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """The first thing that went wrong, where no trouble of the build was told as an error and something is missing."""
    say = Say(timeline)
    told = [_severity(trouble, say) for trouble in timeline.troubles]
    if Severity.ERROR in told:
        return
    unworded = next((t for t, severity in zip(timeline.troubles, told, strict=True) if severity is None), None)
    if unworded is not None:
        headline = f"step {unworded.step} cannot be carried out as it is written ({unworded.kind.replace('-', ' ')})"
        yield KIND.at(unworded.place, headline, label="something is wrong here")
        return
    done = {event.operation.place for event in timeline.events}
    lost = next((each for each in timeline.design.operations if each.place not in done), None)
    if lost is not None:
        headline = f"step {lost.step} cannot carry out its {short(lost.kind)} as it is written"
        yield KIND.at(lost.place, headline, label="never carried out")


def _severity(trouble: Trouble, say: Say) -> Severity | None:
    """How grave the finding is that words a trouble; None if there is none."""
    for rule in rules():
        if isinstance(rule.check, Told) and trouble.kind in rule.check.troubles:
            return rule.KIND.severity if rule.check.words(trouble, say) is not None else None
    return None
