"""A piece is worked while its glue or finish is wet."""

from fractions import Fraction

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.review.written import broken
from planbook.text import Kind, Severity
from planbook.units import show_minutes
from planbook.workshop import Trouble

KIND = Kind(
    "FLO05",
    "glue-still-wet",
    Severity.ERROR,
    "A step works a piece whose glue has not cured, or whose finish has not dried.",
    "A joint that is loaded too early opens; a wet finish takes every fingerprint.",
    '```glue up\nmakes = "blank"\n```\n\n```saw\npiece = "blank"\n```',
    '```glue up\nmakes = "blank"\n```\n\n```wait\ndry = ["blank"]\n```\n\n```saw\npiece = "blank"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words | None:
    if any(op.kind == "wait" and op.place < trouble.place for op in broken(say.timeline)):
        return None
    name = trouble.facts["piece"]
    left = show_minutes(Fraction(trouble.facts["minutes"]).limit_denominator(60))
    return Words(
        f"step {trouble.step} works {short(name)}, which is still wet for {left}",
        "still wet",
        hint=f'wait before it: a `wait` block with `dry = ["{name}"]`',
        at=name,
    )


check = Told(KIND, ("glue-still-wet",), _words)
