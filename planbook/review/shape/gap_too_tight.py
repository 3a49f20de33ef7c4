"""The gap between two pieces is less than was asked, or they overlap."""

from collections.abc import Iterator

from planbook.review.fitted import TOLERANCE, below, measured, pieces_of
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SHA33",
    "gap-too-tight",
    Severity.ERROR,
    "A gap between two pieces is smaller than its fit asks for.",
    "Wood swells, and paint and glue take room: what is tight here will stick.",
    '[fits.play]\nkind = "gap"\nbetween = ["drawer", "case"]\nleast = "0.5 mm"   (0.2 mm is left)',
    '[fits.play]\nkind = "gap"\nbetween = ["drawer", "case"]\nleast = "0.2 mm"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Gaps that are too small."""
    say = Say(timeline)
    for fit, found in measured(timeline, "gap"):
        if found.least is None or not below(found.least, max(found.asked_least or 0.0, 0.0)):
            continue
        between, asked = pieces_of(fit, "between"), found.asked_least or 0.0
        least, wanted = say.pair(found.least, asked)
        if found.least < -TOLERANCE:
            headline = f"fit {short(fit.name)}: {between} overlap by {say.length(-found.least)}"
        else:
            headline = f"fit {short(fit.name)}: the gap between {between} is only {least}, {wanted} is asked for"
        yield KIND.at(fit.place, headline, label=f"at least {wanted}")
