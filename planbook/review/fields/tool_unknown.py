"""A block names a tool that the design does not have."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE14",
    "tool-unknown",
    Severity.ERROR,
    "A block names a tool that `design.toml` does not have.",
    "Its kerf or diameter, and its place in the list of tools, would be missing.",
    'blade = "narow blade"',
    'blade = "narrow blade"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    close = trouble.facts["near"]
    return Words(
        f"step {trouble.step} takes tool {short(trouble.facts['tool'])}, which the design does not have",
        "no such tool",
        () if close else known_note("tools of the design", trouble.facts["known"]),
        meant(close),
    )


check = Told(KIND, ("tool-unknown",), _words)
