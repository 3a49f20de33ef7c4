"""Two sides that should meet in an edge are one side, or lie opposite one another."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA41",
    "no-such-edge",
    Severity.ERROR,
    "A block works at the edge between two sides of a piece, and these two have no edge in common.",
    "The top meets the front, the back and the ends, but neither the bottom nor itself.",
    'face = "top"\nedge = "bottom"',
    'face = "top"\nedge = "front"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    face, edge = trouble.facts["face"], trouble.facts["edge"]
    same = face == edge
    headline = f"`{face}` twice" if same else f"`{face}` and `{edge}`, which lie opposite one another"
    return Words(
        f"step {trouble.step} works at an edge between {headline}",
        "the same side" if same else "no edge between the two",
    )


check = Told(KIND, ("no-such-edge",), _words)
