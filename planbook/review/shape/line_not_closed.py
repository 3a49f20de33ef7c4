"""Wood is sanded to lines of which none is closed."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, name_list
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA09",
    "line-not-closed",
    Severity.ERROR,
    "Wood is sanded to lines none of which is closed.",
    "Only a closed line says which side is wood and which is dust.",
    'lines = ["end"]   (a line)',
    'lines = ["shape"]   (a closed path)',
)


def _words(trouble: Trouble, say: Say) -> Words:
    lines = trouble.facts["lines"]
    said = "which is not a closed line" if len(lines) == 1 else "none of which is a closed line"
    return Words(f"step {trouble.step} sands to {name_list(lines, 'and')}, {said}", "not closed")


check = Told(KIND, ("line-not-closed",), _words)
