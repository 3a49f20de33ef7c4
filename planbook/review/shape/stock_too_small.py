"""A piece is to be brought to a size that it does not have."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA24",
    "stock-too-small",
    Severity.ERROR,
    "A piece is squared to a size that is larger than it is, or to no size at all.",
    "Squaring takes wood away.",
    'to = ["210 mm", "20 mm", "90 mm"]   (of a board of 200 mm)',
    'to = ["198 mm", "20 mm", "90 mm"]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    facts, piece = trouble.facts, short(trouble.facts["piece"])
    want, have = say.pair(facts["want"], facts["have"])
    return Words(
        f"step {trouble.step} squares {piece} to {want} along {facts['axis']}, but it measures {have}",
        f"{piece} measures {have} along {facts['axis']}",
    )


check = Told(KIND, ("stock-too-small",), _words)
