"""A fit that holds as drawn is too tight somewhere in the envelope."""

from collections.abc import Iterator

from planbook.review.corners import corner_words
from planbook.review.fitted import below, proofs
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "ENV01",
    "tight-at-a-corner",
    Severity.ERROR,
    "A fit holds as drawn, but not for every kerf, sanding, board and humidity for which the plan must work.",
    "The reader's saw cuts wider than yours, and wood swells: what just runs on your bench sticks on theirs.",
    "to = \"depth of 'box' - 0.4 mm\"   (the fit asks for 0.3 mm, and 0.2 mm is left when it is damp)",
    "to = \"depth of 'box' - 0.6 mm\"",
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Fits whose least is less than what was asked, at a corner."""
    say = Say(timeline)
    for fit, nominal, proof in proofs(timeline):
        found, asked = proof.least, proof.least.asked_least
        if asked is None or found.least is None or not below(found.least, asked) or below(nominal.least, asked):
            continue
        where = corner_words(proof.least_at, say.fine)
        least, wanted = say.pair(found.least, asked)
        left = f"{say.length(-found.least)} of wood is in the way" if found.least < 0 else f"only {least} is left"
        headline = f"fit {short(fit.name)} fails {where}: {left}, {wanted} is asked for"
        yield KIND.at(fit.place, headline, label=f"short by {say.fine(asked - found.least)}")
