"""Tape is taken off a face that has none."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "FLO15",
    "not-masked",
    Severity.ERROR,
    "A block takes masking off a piece, or off a face of it, that is not masked.",
    "What was never covered has got the finish.",
    '```unmask\npiece = "lid"\nfaces = ["bottom"]\n```',
    '```mask\npiece = "lid"\nfaces = ["bottom"]\ntape = "tape"\n```\n\n```unmask\npiece = "lid"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, face, masked = short(trouble.facts["piece"]), trouble.facts["face"], trouble.facts["masked"]
    where = f"the {face} of {piece}" if face else piece
    headline = f"step {trouble.step} takes masking off {where}, which has none"
    return Words(headline, "not masked", known_note("masked", masked), at=face)


check = Told(KIND, ("not-masked",), _words)
