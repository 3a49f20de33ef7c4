"""A shape is larger than any workshop."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA27",
    "shape-huge",
    Severity.ERROR,
    "A shape reaches further than 20 m from its origin.",
    "It is a slip of the unit or of the decimal point.",
    'radius = "9000 in"',
    'radius = "9 in"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    most = say.length(trouble.facts["most"])
    return Words(
        f"shape {short(trouble.facts['shape'])} reaches further than {most} from the origin",
        "far too large",
    )


check = Told(KIND, ("shape-huge",), _words)
