"""A hole parts a piece in two."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA14",
    "hole-splits",
    Severity.ERROR,
    "Holes part a piece in two.",
    "Boring makes holes, not pieces.",
    '[tools.drill]\ndiameter = "20 mm"   (in a strip of 15 mm)',
    '[tools.drill]\ndiameter = "6 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    return Words(
        f"step {trouble.step} bores {short(trouble.facts['piece'])} in two", "nothing holds the two parts together"
    )


check = Told(KIND, ("hole-splits",), _words)
