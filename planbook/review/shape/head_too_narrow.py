"""A counterbore or countersink is no wider than the hole in it."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA44",
    "head-too-narrow",
    Severity.ERROR,
    "A counterbore or countersink is no wider than the hole that goes on through it.",
    "Nothing would be left for the head of the screw to lie on.",
    '```counterbore\ndrill = "5 mm drill"\nhole = "8 mm drill"\n```',
    '```counterbore\ndrill = "8 mm drill"\nhole = "5 mm drill"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    wide, narrow = say.pair(trouble.facts["wide"], trouble.facts["narrow"])
    kind = trouble.facts["operation"]
    return Words(
        f"step {trouble.step} has a `{kind}` block that sinks {wide} wide about a hole of {narrow}",
        f"the hole in it is {narrow} wide",
    )


check = Told(KIND, ("head-too-narrow",), _words)
