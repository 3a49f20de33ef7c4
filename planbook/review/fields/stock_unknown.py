"""A board is milled that the design does not have."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE18",
    "stock-unknown",
    Severity.ERROR,
    "A `mill` block names a board that `design.toml` does not have.",
    "Nobody would know its wood or its size.",
    'boards = ["left bord"]',
    'boards = ["left board"]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    name, close = trouble.facts["stock"], trouble.facts["near"]
    return Words(
        f"step {trouble.step} mills {short(name)}, but the design has no board of that name",
        "no such board",
        () if close else known_note("boards of the design", trouble.facts["known"]),
        meant(close),
        name,
    )


check = Told(KIND, ("stock-unknown",), _words)
