"""A `repeat` makes no row."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE22",
    "repeat-unfit",
    Severity.ERROR,
    "A `repeat` asks for a single one, for all of them in one place, for too many, or for holes that a stencil shows.",
    "A row begins at `at` and goes on from there; what a stencil shows is printed on it, each hole at its place.",
    'at = [["20 mm", "30 mm"]]\nrepeat = { count = 4, by = ["0 mm", "0 mm"] }',
    'at = [["20 mm", "30 mm"]]\nrepeat = { count = 4, by = ["32 mm", "0 mm"] }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    step, facts = trouble.step, trouble.facts
    match facts["why"]:
        case "once":
            return Words(f"step {step} has a `repeat` that counts 1, the first one itself", "2 or more, or no `repeat`")
        case "nowhere":
            return Words(
                f"step {step} has a `repeat` that moves on by nothing, so that all lie in one place", "how far on?"
            )
        case "many":
            headline = f"step {step} has a `repeat` of {facts['count']} places; {facts['most']} is the most"
            return Words(headline, "a slip of the count?")
        case _:
            return Words(
                f"step {step} has a `repeat` without `at` to begin from: the stencil shows where the holes are",
                "nothing to repeat",
                hint="put the holes of the row on the stencil, or give `face` and `at` instead of `stencil`",
            )


check = Told(KIND, ("repeat-unfit",), _words)
