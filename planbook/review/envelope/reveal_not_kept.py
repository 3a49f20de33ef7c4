"""The step between two faces is not what was asked."""

from collections.abc import Iterator

from planbook.review.fitted import below, measured, pieces_of
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "ENV05",
    "reveal-not-kept",
    Severity.ERROR,
    "The step between the faces of two pieces is smaller or larger than its fit asks for.",
    "A front that is meant to stand back a little stands out, and every drawer differently.",
    '[fits.setback]\nkind = "reveal"\nbetween = ["case", "drawer"]\nface = "front"\nleast = "0.5 mm"   (it is 0.1 mm)',
    '[fits.setback]\nkind = "reveal"\nbetween = ["case", "drawer"]\nface = "front"\nleast = "0.1 mm"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Steps outside what was asked, as drawn."""
    say = Say(timeline)
    for fit, found in measured(timeline, "reveal"):
        if below(found.least, found.asked_least):
            step, asked, word = found.least or 0.0, found.asked_least or 0.0, "least"
        elif below(found.asked_most, found.most):
            step, asked, word = found.most or 0.0, found.asked_most or 0.0, "most"
        else:
            continue
        shown, wanted = say.pair(step, asked)
        headline = (
            f"fit {short(fit.name)}: the step between {pieces_of(fit, 'between')} at the {fit.fields['face'].value}"
            f" is {shown}, {wanted} is the {word}"
        )
        yield KIND.at(fit.place, headline, label=f"at {word} {wanted}")
