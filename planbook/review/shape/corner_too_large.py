"""The rounded corners of a box do not fit on it."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA30",
    "corner-too-large",
    Severity.ERROR,
    "The corners of a box are rounder than half of its side.",
    "They would run into each other.",
    'width = "30 mm"\nheight = "60 mm"\ncorner = "18 mm"',
    'width = "30 mm"\nheight = "60 mm"\ncorner = "15 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    corner, most = say.pair(trouble.facts["corner"], trouble.facts["most"])
    return Words(
        f"shape {short(trouble.facts['shape'])} has corners of {corner}, but there is room for {most}",
        f"{most} at most",
    )


check = Told(KIND, ("corner-too-large",), _words)
