"""A fit that holds as drawn is too loose somewhere in the envelope."""

from collections.abc import Iterator

from planbook.review.corners import corner_words
from planbook.review.fitted import below, proofs
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "ENV02",
    "loose-at-a-corner",
    Severity.ERROR,
    "A gap or step is small enough as drawn, but not for every kerf, sanding, board and humidity that is allowed.",
    "It rattles or is seen in some of the boxes that are built from the plan, and nobody knows why.",
    '[fits.play]\nkind = "gap"\nbetween = ["drawer", "case"]\nmost = "1 mm"   (1.2 mm with a kerf of 1.3 mm)',
    '[fits.play]\nkind = "gap"\nbetween = ["drawer", "case"]\nmost = "1.3 mm"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Fits whose most is more than what was asked, at a corner."""
    say = Say(timeline)
    for fit, nominal, proof in proofs(timeline):
        found, asked = proof.most, proof.most.asked_most
        if asked is None or found.most is None or not below(asked, found.most) or below(asked, nominal.most):
            continue
        where = corner_words(proof.most_at, say.fine)
        most, wanted = say.pair(found.most, asked)
        headline = f"fit {short(fit.name)} fails {where}: it comes to {most}, {wanted} is the most"
        yield KIND.at(fit.place, headline, label=f"too much by {say.fine(found.most - asked)}")
