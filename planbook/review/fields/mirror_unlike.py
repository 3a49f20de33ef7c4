"""Two pieces that are worked as a mirrored pair differ in size."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE24",
    "mirror-unlike",
    Severity.ERROR,
    "The partner in a `mirror` is not as long, deep or high as the piece.",
    "Where a hole belongs on the partner is measured from its edges; on a piece of another size that is a guess.",
    'piece = "left side"  # 200 mm high\nmirror = { piece = "rail", across = "x" }  # 60 mm high',
    'piece = "left side"\nmirror = { piece = "right side", across = "x" }  # 200 mm high as well',
)


def _words(trouble: Trouble, say: Say) -> Words:
    first, second = short(trouble.facts["first"]), short(trouble.facts["second"])
    here, there = trouble.facts["sizes"]
    return Words(
        f"step {trouble.step} works {first} and {second} as a mirrored pair, but they differ in size",
        "not of the same size",
        (f"{first} is {say.box(here)} along x, y and z", f"{second} is {say.box(there)}"),
    )


check = Told(KIND, ("mirror-unlike",), _words)
