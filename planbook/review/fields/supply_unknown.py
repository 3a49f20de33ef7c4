"""A block names a supply that the design does not have."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE16",
    "supply-unknown",
    Severity.ERROR,
    "A block names a supply that `design.toml` does not have.",
    "Its curing time and cautions, and its place in the list of supplies, would be missing.",
    'glue = "wod glue"',
    'glue = "wood glue"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    close = trouble.facts["near"]
    return Words(
        f"step {trouble.step} takes supply {short(trouble.facts['supply'])}, which the design does not have",
        "no such supply",
        () if close else known_note("supplies of the design", trouble.facts["known"]),
        meant(close),
    )


check = Told(KIND, ("supply-unknown",), _words)
