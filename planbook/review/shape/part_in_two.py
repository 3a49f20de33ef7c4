"""One name stands for several parts."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA06",
    "part-in-two",
    Severity.ERROR,
    "One name is given to what falls into several parts.",
    "A piece is one thing that can be picked up.",
    'makes = { corner = "outside" }   (two corners fall off)',
    'makes = { left = "left corner", right = "right corner" }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, region, count = (trouble.facts[key] for key in ("piece", "region", "count"))
    return Words(
        f"step {trouble.step} makes {short(piece)} from region {short(region)}, but {count} parts come loose there",
        f"{count} parts",
        hint="give each part a region and a name of its own",
        at=piece,
    )


check = Told(KIND, ("part-in-two",), _words)
