"""The gap between two pieces is more than was asked."""

from collections.abc import Iterator

from planbook.review.fitted import below, measured, pieces_of
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SHA34",
    "gap-too-loose",
    Severity.ERROR,
    "A gap between two pieces is larger than its fit asks for.",
    "It rattles, and it is seen.",
    '[fits.play]\nkind = "gap"\nbetween = ["drawer", "case"]\nmost = "0.5 mm"   (1.2 mm is left)',
    '[fits.play]\nkind = "gap"\nbetween = ["drawer", "case"]\nmost = "1.5 mm"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Gaps that are too large."""
    say = Say(timeline)
    for fit, found in measured(timeline, "gap"):
        if found.most is not None and below(found.asked_most, found.most):
            most, asked = say.pair(found.most, found.asked_most or 0.0)
            between = pieces_of(fit, "between")
            headline = f"fit {short(fit.name)}: the gap between {between} is up to {most}, {asked} is asked for"
            yield KIND.at(fit.place, headline, label=f"at most {asked}")
