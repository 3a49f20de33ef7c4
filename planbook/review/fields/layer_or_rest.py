"""A block that saws off a layer does not name its two parts."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, name_list, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE20",
    "layer-or-rest",
    Severity.ERROR,
    "A `slice` block does not say of two names which is the layer and which is the rest.",
    "Slicing makes two pieces, the layer that comes off and the rest that stays; both need a name.",
    'makes = { lid = "layer" }',
    'makes = { lid = "layer", box = "rest" }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    if trouble.kind == "region-unknown":
        region, known = trouble.facts["region"], trouble.facts["known"]
        headline = f"step {trouble.step} slices off {short(region)}, but slicing makes {name_list(known, 'and')}"
        return Words(headline, "no such part", at=region)
    return Words(
        f"step {trouble.step} slices a piece in two, but does not name both the layer and the rest",
        "one name for each of the two",
        hint='write it like `makes = { lid = "layer", box = "rest" }`',
    )


check = Told(
    KIND,
    (
        "region-unknown",
        "region-missing",
    ),
    _words,
)
