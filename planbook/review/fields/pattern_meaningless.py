"""A name with a `*` means no piece on the bench."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, bench_note, meant, short
from planbook.review.written import broken
from planbook.text import Kind, Severity
from planbook.workshop import Timeline, Trouble
from planbook.workshop.patterns import matching

KIND = Kind(
    "OPE25",
    "pattern-meaningless",
    Severity.ERROR,
    "A name with a `*` stands for every piece on the bench that fits, and none does.",
    "Nothing would be worked, and nobody would notice.",
    'boards = ["leg 1", "leg 2"]\n...\npieces = ["legs *"]',
    'boards = ["leg 1", "leg 2"]\n...\npieces = ["leg *"]',
)


def _words(trouble: Trouble, say: Say) -> Words | None:
    pattern, close = trouble.facts["pattern"], trouble.facts["near"]
    if _not_milled(pattern, say.timeline):
        return None
    return Words(
        f"step {trouble.step} takes every piece called {short(pattern)}, but none on the bench is called so",
        "no such pieces",
        bench_note(trouble.facts["bench"]),
        meant(close),
        pattern,
    )


def _not_milled(pattern: str, timeline: Timeline) -> bool:
    """Whether it means boards that would be there if a `mill` block had not failed."""
    return bool(matching(pattern, timeline.design.stock)) and any(op.kind == "mill" for op in broken(timeline))


check = Told(KIND, ("pattern-meaningless",), _words)
