"""A block lacks a field that its operation needs."""

from planbook.review.field_words import EXAMPLES
from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE03",
    "missing-field",
    Severity.ERROR,
    "A block lacks a field that its operation must have.",
    "It cannot be guessed: which piece, which blade, how much.",
    '```trim\npiece = "lid"\nto = "80 mm"\nblade = "resaw blade"\n```',
    '```trim\npiece = "lid"\nface = "left"\nto = "80 mm"\nblade = "resaw blade"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    field, operation, what = (trouble.facts[key] for key in ("field", "operation", "what"))
    return Words(
        f"step {trouble.step} has a `{operation}` block without `{field}`",
        f"`{field}` is missing",
        hint=f"add it, written like `{field} = {EXAMPLES[what]}`" if what in EXAMPLES else "",
    )


check = Told(KIND, ("missing-field",), _words)
