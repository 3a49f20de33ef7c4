"""A cut that should leave a piece whole takes it apart."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA43",
    "cut-splits",
    Severity.ERROR,
    "A block that works one piece leaves it in two or more parts that do not hang together.",
    "Only one of them could keep the name.",
    'face = "top"   (the piece stands on two legs)\nlength = "20 mm"',
    'face = "top"\nlength = "60 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, kind = short(trouble.facts["piece"]), trouble.facts["operation"]
    return Words(f"step {trouble.step} takes {piece} apart with its `{kind}`", "nothing holds the parts together")


check = Told(KIND, ("cut-splits",), _words)
