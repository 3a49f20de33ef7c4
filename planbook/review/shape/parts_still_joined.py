"""Two names stand for one part."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, name_list
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA07",
    "parts-still-joined",
    Severity.ERROR,
    "A cut gives two names to what is still one part.",
    "The cut does not go through between them.",
    'makes = { left = "left half", right = "right half" }   (the line ends short of the edge)',
    'makes = { left = "left half", right = "right half" }   (the line runs past both edges)',
)


def _words(trouble: Trouble, say: Say) -> Words:
    names = trouble.facts["pieces"]
    return Words(
        f"step {trouble.step} makes {name_list(names, 'and')}, but they are still one part",
        "still joined",
        hint="let the line run past the edges of the wood, or give the part one name",
    )


check = Told(KIND, ("parts-still-joined",), _words)
