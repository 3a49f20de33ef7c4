"""A hole with a depth goes through the piece."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA13",
    "hole-too-deep",
    Severity.ERROR,
    "A hole is given a depth, but goes right through the piece.",
    "Somebody counts on its bottom.",
    'depth = "20 mm"   (in a board of 19 mm)',
    'depth = "12 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, depth = short(trouble.facts["piece"]), say.length(trouble.facts["depth"])
    return Words(
        f"step {trouble.step} bores a hole into {piece} that comes out on the other side: the wood is {depth} deep",
        f"the wood is {depth} deep",
        hint="leave `depth` out for a hole right through",
    )


check = Told(KIND, ("hole-too-deep",), _words)
