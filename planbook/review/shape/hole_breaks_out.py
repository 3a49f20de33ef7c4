"""A hole is partly beside the face it is bored into."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA15",
    "hole-breaks-out",
    Severity.WARNING,
    "A hole is not wholly in its face: it breaks out of a side.",
    "The drill wanders, and the edge splinters.",
    'at = [["2 mm", "10 mm"]]   (with a drill of 8 mm)',
    'at = [["12 mm", "10 mm"]]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, hole, (u, v) = short(trouble.facts["piece"]), trouble.facts["hole"], trouble.facts["at"]
    wide = say.length(2 * trouble.facts["radius"])
    return Words(
        f"step {trouble.step} bores {short(hole)}, {wide} wide, where it breaks out of the side of {piece}",
        "breaks out",
        (f"its middle is {say.length(u)} to the right and {say.length(v)} up on the face",),
        at=hole,
    )


check = Told(KIND, ("hole-breaks-out",), _words)
