"""A stencil is stuck on so that none of its lines is on the wood."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

ORIGINS = {
    "lower left": "lower left corner of the face",
    "lower right": "lower right corner of the face",
    "lower middle": "middle of the lower edge of the face",
    "middle": "middle of the face",
    "world": "origin of the design",
}

KIND = Kind(
    "SHA23",
    "stencil-off-piece",
    Severity.ERROR,
    "None of the lines of a stencil lies on the piece it is stuck on.",
    "It is made for another face, or counted from another origin.",
    '[stencils.front]\norigin = "world"   (on a piece that lies elsewhere)',
    '[stencils.front]\norigin = "lower left"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    stencil, piece = trouble.facts["stencil"], trouble.facts["piece"]
    found = say.timeline.design.stencils[stencil]
    return Words(
        f"step {trouble.step} sticks stencil {short(stencil)} on {short(piece)}, but none of its lines is on the wood",
        "beside the wood",
        (f"it is made for the {found.face}, and counted from the {ORIGINS.get(found.origin, found.origin)}",),
    )


check = Told(KIND, ("stencil-off-piece",), _words)
