"""A shape has nothing in it."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA26",
    "shape-empty",
    Severity.ERROR,
    "A shape comes to nothing: what is cut away takes all, or two shapes do not overlap.",
    "There would be nothing to draw.",
    'kind = "offset"\nof = "drum"   (radius 20 mm)\nby = "-20 mm"',
    'kind = "offset"\nof = "drum"   (radius 20 mm)\nby = "-6 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    return Words(f"shape {short(trouble.facts['shape'])} has nothing in it", "nothing is left of it")


check = Told(KIND, ("shape-empty",), _words)
