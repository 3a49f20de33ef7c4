"""A length is typed out in prose that is no size and no setting of its step."""

from collections.abc import Iterator

from planbook.model import TypedLength, prose_in_all
from planbook.review.say import short
from planbook.review.settings import settings_of
from planbook.text import Finding, Kind, Severity
from planbook.units import read_length
from planbook.workshop import Timeline

TOLERANCE = 0.01
"""Lengths closer than this (mm) are the same."""
HINT = "give it a name under [sizes] and write `{its name}` here"

KIND = Kind(
    "WOR04",
    "typed-length",
    Severity.WARNING,
    "A length is typed out in prose that equals no size of the design and no setting of the step's operations.",
    "It is not checked, does not change with the design, and is printed in these units in every edition.",
    '[sizes]\nwall = "12 mm"\n\nLeave 10 mm on both sides.',
    '[sizes]\nwall = "12 mm"\n\nLeave {wall} on both sides.',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Typed lengths that nothing in the design bears out."""
    sizes = [float(value.value) for value in timeline.sizes.values() if value.is_length]
    for step in timeline.design.steps:
        told = list(prose_in_all(timeline.design, step))
        if any(prose.lengths for prose in told):
            borne_out = [*sizes, *settings_of(step, timeline)]
            for typed in (each for prose in told for each in prose.lengths):
                if not any(abs(abs(length) - _mm(typed)) < TOLERANCE for length in borne_out):
                    headline = f"step {step.number} speaks of {typed.text}, which is no size and no setting of the step"
                    yield KIND.at(typed.place, headline, label="typed out", hint=HINT)
    for remedy in timeline.design.remedies.values():
        for typed in (each for prose in remedy.prose for each in prose.lengths):
            if not any(abs(abs(length) - _mm(typed)) < TOLERANCE for length in sizes):
                headline = f"remedy {short(remedy.name)} speaks of {typed.text}, which is no size of the design"
                yield KIND.at(typed.place, headline, label="typed out", hint=HINT)


def _mm(typed: TypedLength) -> float:
    return float(read_length(typed.text))
