"""A block has a field that its operation does not know."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.units import near
from planbook.workshop import Trouble

KIND = Kind(
    "OPE02",
    "unknown-field",
    Severity.ERROR,
    "A block has a field that its operation does not have.",
    "A mistyped field would be passed over, and what it says would be missed without a word.",
    '```saw\npeice = "blank"\n```',
    '```saw\npiece = "blank"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    field, operation, known = (trouble.facts[key] for key in ("field", "operation", "known"))
    close = near(field, known)
    return Words(
        f"step {trouble.step} writes {short(field)} in a `{operation}` block, which has no such field",
        "no such field",
        () if close else known_note(f"fields of `{operation}`", known),
        meant(close),
    )


check = Told(KIND, ("unknown-field",), _words)
