"""A cut takes a piece whole."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA02",
    "nothing-left",
    Severity.ERROR,
    "A cut takes all the wood of a piece.",
    "There would be nothing left to go on with.",
    '```bore\npiece = "peg"   (6 mm across)\ndrill = "8 mm drill"\n```',
    '```bore\npiece = "peg"   (6 mm across)\ndrill = "3 mm drill"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    return Words(
        f"step {trouble.step} leaves nothing of {short(trouble.facts['piece'])}: the cut takes it whole",
        "takes all of it",
    )


check = Told(KIND, ("nothing-left",), _words)
