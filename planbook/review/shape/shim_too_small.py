"""A shim is thinner, shorter or narrower than the cut it closes, or has less wood."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA19",
    "shim-too-small",
    Severity.ERROR,
    "A shim is thinner, shorter or narrower than the cut it is to close, or has less wood.",
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
    if "wood" in trouble.facts:
        wood, cut = say.volume(trouble.facts["wood"]), say.volume(trouble.facts["cut"])
        headline = f"step {trouble.step} closes a cut of {cut} with {shim}, which has only {wood} of wood"
        return Words(headline, f"only {wood}")
    return _outline(trouble, say, shim)


def _outline(trouble: Trouble, say: Say, shim: str) -> Words:
    """A strip of which no piece as long and as wide as the cut can be cut."""
    sides = tuple(zip(trouble.facts["have"], trouble.facts["need"], strict=True))
    need = say.box(trouble.facts["need"])
    start = f"step {trouble.step} needs a strip of {need} for its cut"
    hint = "cut the shim off a larger piece, or off another of its faces"
    if all(have >= want for have, want in sides):
        return Words(f"{start}, and {shim} has no place where one is left whole", f"no {need} in one piece", hint=hint)
    pairs = [say.pair(have, want) for have, want in sides]
    has = " × ".join(have for have, _ in pairs)
    start = f"step {trouble.step} needs a strip of {' × '.join(want for _, want in pairs)} for its cut"
    return Words(f"{start}, but {shim} is only {has}", f"only {has}", hint=hint)


check = Told(KIND, ("shim-too-small",), _words)
