"""Pieces are pushed together along a line on which they never touch."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA20",
    "faces-do-not-meet",
    Severity.ERROR,
    "A piece is pushed along an axis, but never touches the piece it is to be glued to.",
    "They lie beside one another, and not behind one another.",
    'pieces = ["left", "right"]   (side by side)\nalong = "y"',
    'pieces = ["left", "right"]   (side by side)\nalong = "x"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, axis = trouble.facts["piece"], trouble.facts["axis"]
    return Words(
        f"step {trouble.step} pushes {short(piece)} along {axis}, where it never touches what it is glued to",
        "goes past",
        hint="x runs from left to right, y from front to back, z upwards: choose the one they lie along",
        at=piece,
    )


check = Told(KIND, ("faces-do-not-meet",), _words)
