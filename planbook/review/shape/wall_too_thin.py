"""The thinnest place of a piece is thinner than was asked."""

from collections.abc import Iterator

from planbook.review.fitted import below, measured, pieces_of
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SHA35",
    "wall-too-thin",
    Severity.ERROR,
    "A piece is somewhere thinner than its fit asks for.",
    "A thin wall breaks while it is worked, or soon afterwards.",
    '[fits.strong]\nkind = "wall"\npiece = "tray"\nleast = "6 mm"   (5 mm is left)',
    '[fits.strong]\nkind = "wall"\npiece = "tray"\nleast = "5 mm"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Walls that are too thin."""
    say = Say(timeline)
    for fit, found in measured(timeline, "wall"):
        if found.least is not None and below(found.least, found.asked_least):
            least, asked = say.pair(found.least, found.asked_least or 0.0)
            piece = pieces_of(fit, "piece")
            headline = f"fit {short(fit.name)}: {piece} is only {least} thick at its thinnest, {asked} is asked for"
            notes = (f"thinnest near {say.spot(found.where)}",) if found.where else ()
            yield KIND.at(fit.place, headline, label=f"at least {asked}", notes=notes)
