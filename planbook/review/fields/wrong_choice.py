"""A field holds a word that is none of those it takes."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, meant, name_list, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE05",
    "wrong-choice",
    Severity.ERROR,
    "A field of a block holds none of the words that it takes.",
    "The words are few and fixed, so that a mistyped one is noticed.",
    'face = "frnt"',
    'face = "front"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    field, value, choices = (trouble.facts[key] for key in ("field", "value", "choices"))
    close = trouble.facts["near"]
    return Words(
        f"step {trouble.step} has {short(value)} for `{field}`, which takes {name_list(choices)}",
        "none of these words",
        hint=meant(close),
    )


check = Told(KIND, ("wrong-choice",), _words)
