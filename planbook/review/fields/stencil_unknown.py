"""A block names a stencil that the design does not have."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE12",
    "stencil-unknown",
    Severity.ERROR,
    "A block names a stencil that `design.toml` does not have.",
    "There is no such sheet to stick on or to follow.",
    'stencil = "outlin"',
    'stencil = "outline"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    close = trouble.facts["near"]
    return Words(
        f"step {trouble.step} takes stencil {short(trouble.facts['stencil'])}, which the design does not have",
        "no such stencil",
        () if close else known_note("stencils of the design", trouble.facts["known"]),
        meant(close),
    )


check = Told(KIND, ("stencil-unknown",), _words)
