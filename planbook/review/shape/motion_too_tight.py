"""A moving piece comes closer to another one than was asked."""

from collections.abc import Iterator

from planbook.review.fitted import MOTIONS, TOLERANCE, below, measured, pieces_of, spot_note, stage_words
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SHA37",
    "motion-too-tight",
    Severity.ERROR,
    "A piece that must slide or swing has less room on its way than its fit asks for.",
    "Wood swells: what just runs in the winter sticks in the summer.",
    '[fits.opens]\nkind = "slide"\npiece = "drawer"\nleast = "0.5 mm"   (0.2 mm is left)',
    '[fits.opens]\nkind = "slide"\npiece = "drawer"\nleast = "0.2 mm"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Motions with too little room, but free."""
    say = Say(timeline)
    for fit, found in measured(timeline, *MOTIONS):
        if found.least is None or found.least < -TOLERANCE or not below(found.least, found.asked_least):
            continue
        least, asked = say.pair(found.least, found.asked_least or 0.0)
        piece, past = pieces_of(fit, "piece"), pieces_of(fit, "past")
        stage = stage_words(found.stage)
        headline = f"fit {short(fit.name)}: {piece} passes {past} at {least} {stage}, {asked} is asked for"
        yield KIND.at(fit.place, headline, label=f"at least {asked}", notes=spot_note(found, say))
