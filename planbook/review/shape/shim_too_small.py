"""A shim has less wood than the cut it closes."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA19",
    "shim-too-small",
    Severity.ERROR,
    "A shim has less wood than the cut it is to close.",
    "Part of the cut would stay open.",
    '```slice\npiece = "corner"\nthickness = "0.5 mm"   (for a kerf of 1 mm)\n```',
    '```slice\npiece = "corner"\nthickness = "1 mm"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    have, need = say.volume(trouble.facts["have"]), say.volume(trouble.facts["need"])
    shim = short(trouble.facts["shim"])
    return Words(
        f"step {trouble.step} closes a cut of {need} with {shim}, which has only {have} of wood", f"only {have}"
    )


check = Told(KIND, ("shim-too-small",), _words)
