"""A template lies beside the piece or stands out over it."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA48",
    "template-off-piece",
    Severity.ERROR,
    "A template lies, in part or wholly, where the piece has no wood.",
    "The copy would lack what the piece does not have.",
    '```template copy\npiece = "blank"   (80 mm long)\ntemplate = "pattern"   (100 mm long)\n```',
    '```template copy\npiece = "blank"   (104 mm long)\ntemplate = "pattern"   (100 mm long)\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, template = short(trouble.facts["piece"]), short(trouble.facts["template"])
    if piece == template:
        return Words(f"step {trouble.step} copies {piece} from itself", "the same piece")
    return Words(
        f"step {trouble.step} lays template {template} on {piece}, which does not reach all of its outline",
        "stands out over the piece",
        hint="lay it on with `origin`, or leave more wood",
    )


check = Told(KIND, ("template-off-piece",), _words)
