"""A hole lies beside the wood."""

from planbook.review.pointing import operation_at
from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA12",
    "hole-misses",
    Severity.ERROR,
    "A hole or a plug lies beside the wood, or not wholly in it.",
    "The drill would bore air, the plug would have no side.",
    'at = [["-20 mm", "10 mm"]]',
    'at = [["20 mm", "10 mm"]]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, hole = short(trouble.facts["piece"]), trouble.facts["hole"]
    operation = operation_at(trouble.place, say.timeline.design)
    if operation is not None and operation.kind == "cut plugs":
        return Words(
            f"step {trouble.step} cuts {short(hole)} where {piece} has no room for it", "not wholly in the wood"
        )
    return Words(f"step {trouble.step} bores {short(hole)} where {piece} has no wood", "beside the wood", at=hole)


check = Told(KIND, ("hole-misses",), _words)
