"""A shim is set where there is no cut."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA18",
    "no-kerf-there",
    Severity.ERROR,
    "A shim is set along a line where the wood has no cut.",
    "A shim fills the kerf of an entry cut.",
    '```shim\nline = "way in"\n```',
    '```saw\nentry = ["way in"]\n```\n\n```shim\nline = "way in"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, line = short(trouble.facts["piece"]), trouble.facts["line"]
    return Words(f"step {trouble.step} closes a cut along {short(line)}, but {piece} has none there", "no cut along it")


check = Told(KIND, ("no-kerf-there",), _words)
