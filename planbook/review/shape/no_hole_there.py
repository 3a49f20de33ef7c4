"""A plug is set where there is no hole for it."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA16",
    "no-hole-there",
    Severity.ERROR,
    "A plug is set where there is no hole, or one that goes right through.",
    "A plug is pushed in until it meets the bottom of its hole.",
    '```plug\nat = ["20 mm", "20 mm"]\n```',
    '```bore\nat = [["20 mm", "20 mm"]]\ndepth = "5 mm"\n```\n\n```plug\nat = ["20 mm", "20 mm"]\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece = short(trouble.facts["piece"])
    return Words(
        f"step {trouble.step} sets a plug into {piece} where there is no hole with a bottom",
        "no bottom under it",
        hint="bore the hole there first, with a `depth`",
    )


check = Told(KIND, ("no-hole-there",), _words)
