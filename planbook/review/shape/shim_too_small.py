"""A shim is thinner than the cut it closes, or has less wood."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA19",
    "shim-too-small",
    Severity.ERROR,
    "A shim is thinner than the cut it is to close, or has less wood.",
    "Part of the cut would stay open.",
    '```slice\npiece = "corner"\nthickness = "0.5 mm"   (for a kerf of 1 mm)\n```',
    '```slice\npiece = "corner"\nthickness = "1 mm"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    shim = short(trouble.facts["shim"])
    if "thick" in trouble.facts:
        thick, wide = say.pair(trouble.facts["thick"], trouble.facts["wide"])
        headline = f"step {trouble.step} closes a cut {wide} wide with {shim}, which is only {thick} thick"
        return Words(headline, f"only {thick}", hint="slice it as thick as the cut: `kerf of` the blade that made it")
    have, need = say.volume(trouble.facts["have"]), say.volume(trouble.facts["need"])
    return Words(
        f"step {trouble.step} closes a cut of {need} with {shim}, which has only {have} of wood", f"only {have}"
    )


check = Told(KIND, ("shim-too-small",), _words)
