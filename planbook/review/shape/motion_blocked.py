"""A moving piece runs into another one."""

from collections.abc import Iterator

from planbook.review.fitted import MOTIONS, TOLERANCE, measured, pieces_of, spot_note, stage_words
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SHA36",
    "motion-blocked",
    Severity.ERROR,
    "A piece that must slide or swing runs into another one on its way.",
    "It cannot be opened, or not be put in.",
    '[fits.opens]\nkind = "slide"\npiece = "drawer"\nalong = ["0 mm", "80 mm", "0 mm"]   (into the back)',
    '[fits.opens]\nkind = "slide"\npiece = "drawer"\nalong = ["0 mm", "-80 mm", "0 mm"]',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Motions on which wood would be in wood."""
    say = Say(timeline)
    for fit, found in measured(timeline, *MOTIONS):
        if found.least is not None and found.least < -TOLERANCE:
            piece, past = pieces_of(fit, "piece"), pieces_of(fit, "past")
            deep = say.length(-found.least)
            moves = MOTIONS[found.kind]
            headline = f"fit {short(fit.name)}: {piece} {moves} {deep} deep into {past} {stage_words(found.stage)}"
            yield KIND.at(fit.place, headline, label="blocked", notes=spot_note(found, say))
