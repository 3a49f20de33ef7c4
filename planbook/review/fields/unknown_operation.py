"""The block of a step is of an operation that does not exist."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE01",
    "unknown-operation",
    Severity.ERROR,
    "The word after the three backticks is not an operation.",
    "The block could not be carried out, and every later step would miss what it makes.",
    '```swa\npiece = "blank"\n```',
    '```saw\npiece = "blank"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    kind, close = trouble.facts["operation"], trouble.facts["near"]
    notes = () if close else known_note("operations", trouble.facts["known"])
    return Words(
        f"step {trouble.step} asks for {short(kind)}, which is not an operation",
        "no such operation",
        notes,
        meant(close),
    )


check = Told(KIND, ("unknown-operation",), _words)
