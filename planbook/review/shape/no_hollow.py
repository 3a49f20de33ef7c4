"""A piece is lined that has no hollow there."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA17",
    "no-hollow",
    Severity.ERROR,
    "A piece is lined through a face behind which there is no hollow.",
    "Lining lies on the floor of a hollow.",
    '```line\npiece = "board"\nopening = "top"\n```',
    '```line\npiece = "tray"\nopening = "top"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, face = short(trouble.facts["piece"]), trouble.facts["face"]
    wall = trouble.facts.get("wall")
    if wall:
        return Words(
            f"step {trouble.step} lines the {wall} of the opening in the {face} of {piece}, but no flat wall is there",
            "no such wall",
            hint="name a face at which a flat wall lies that can be reached through the opening",
        )
    return Words(
        f"step {trouble.step} lines {piece} through its {face}, but no floor lies deeper there",
        "no hollow there",
        hint="name the open side in `opening`",
    )


check = Told(KIND, ("no-hollow",), _words)
