"""Two pieces that should end at one face do not."""

from collections.abc import Iterator

from planbook.review.fitted import TOLERANCE, measured, pieces_of
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SHA38",
    "not-flush",
    Severity.ERROR,
    "Two pieces that should end at the same face stand out by more than their fit allows.",
    "A finger feels a tenth of a millimetre.",
    '[fits.even]\nkind = "flush"\nbetween = ["drawer", "case"]\nwithin = "0.2 mm"   (it stands out by 0.5 mm)',
    '[fits.even]\nkind = "flush"\nbetween = ["drawer", "case"]\nwithin = "0.5 mm"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Faces that are not in line."""
    say = Say(timeline)
    for fit, found in measured(timeline, "flush"):
        asked = found.asked_most or 0.0
        if found.most is not None and found.most > asked + TOLERANCE:
            step, within = say.pair(found.most, asked)
            face = fit.fields["face"].value
            headline = (
                f"fit {short(fit.name)}: {pieces_of(fit, 'between')} are {step} apart at the {face},"
                f" where {within} is allowed"
            )
            yield KIND.at(fit.place, headline, label=f"within {within}")
