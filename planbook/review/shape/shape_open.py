"""An open line is used where an area is needed."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA28",
    "shape-open",
    Severity.ERROR,
    "A shape is made of an open line where it needs an area.",
    "Only a closed outline can be joined, cut away or offset.",
    '[shapes.rim]\nkind = "offset"\nof = "way in"   (a line)',
    '[shapes.rim]\nkind = "offset"\nof = "drum"   (a circle)',
)


def _words(trouble: Trouble, say: Say) -> Words:
    return Words(
        f"shape {short(trouble.facts['shape'])} is made from an open line, where a closed outline is needed",
        "an open line",
    )


check = Told(KIND, ("shape-open",), _words)
