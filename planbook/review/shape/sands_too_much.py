"""Sanding takes more than half of a piece."""

from planbook.review.pointing import operation_at
from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA10",
    "sands-too-much",
    Severity.ERROR,
    "Sanding would take more than half of a piece.",
    "Sanding takes what the saw left outside of the line; more than that is sawn.",
    '```sand to line\nlines = ["hollow"]\n```',
    '```sand to line\nlines = ["hollow"]\nkeep = "outside"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, share = short(trouble.facts["piece"]), trouble.facts["share"]
    much = "more than half" if share <= 0.5 else "all" if share > 0.999 else f"{100 * share:.0f} %"
    operation = operation_at(trouble.place, say.timeline.design)
    turned = operation is not None and operation.kind == "sand to line" and "keep" not in operation.fields.table()
    return Words(
        f"step {trouble.step} would sand away {much} of {piece}",
        "takes too much",
        hint='write `keep = "outside"` if the wood around the line is to stay' if turned else "",
    )


check = Told(KIND, ("sands-too-much",), _words)
