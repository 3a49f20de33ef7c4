"""A `mirror` that cannot be followed."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE23",
    "mirror-unfit",
    Severity.ERROR,
    "A `mirror` names one partner for several pieces, or sticks a stencil and its mirror image on one piece.",
    "One piece has one mirrored partner, and a stencil and its mirror image are told apart by the pieces they lie on.",
    'pieces = ["left side", "left rail"]\nmirror = { piece = "right side", across = "x" }',
    'piece = "left side"\nmirror = { piece = "right side", across = "x" }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    if trouble.facts["why"] == "several":
        return Words(
            f"step {trouble.step} mirrors several pieces on one partner",
            "one partner for all `pieces`",
            hint="write a block for each pair, or leave `piece` out to mirror the work on each piece itself",
        )
    return Words(
        f"step {trouble.step} sticks {short(trouble.facts['stencil'])} and its mirror image on the same piece",
        "no partner is named",
        hint='name the partner: `mirror = { piece = "right side", across = "x" }`',
    )


check = Told(KIND, ("mirror-unfit",), _words)
