"""A closed line is used where an open one is needed."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA08",
    "entry-not-open",
    Severity.ERROR,
    "An entry cut, or the cut that a shim closes, is a closed line.",
    "An entry runs from the edge of the wood to the line; it has two ends.",
    'entry = ["outline"]   (a circle)',
    'entry = ["way in"]   (a line)',
)


def _words(trouble: Trouble, say: Say) -> Words:
    line = trouble.facts["line"]
    return Words(
        f"step {trouble.step} uses {short(line)} as an entry cut, but it is a closed line",
        "a closed line",
        hint="draw the entry as a `line`, or as a `path` with `closed = false`",
        at=line,
    )


check = Told(KIND, ("entry-not-open",), _words)
