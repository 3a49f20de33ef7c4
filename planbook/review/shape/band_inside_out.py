"""A band of an arc has no width or no length."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA32",
    "band-inside-out",
    Severity.ERROR,
    "A curved band is wider inside than outside, or ends before it starts.",
    "There would be nothing of it.",
    'inner = "40 mm"\nouter = "30 mm"',
    'inner = "30 mm"\nouter = "40 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    facts, shape = trouble.facts, short(trouble.facts["shape"])
    if facts["inner"] >= facts["outer"]:
        inner, outer = say.length(facts["inner"]), say.length(facts["outer"])
        return Words(
            f"shape {shape} has {inner} for its inner and {outer} for its outer radius", "the outer one must be larger"
        )
    turn = f"from {facts['start']:g}° to {facts['end']:g}°"
    return Words(f"shape {shape} runs {turn}, where it must turn by more than 0° and less than 360°", turn)


check = Told(KIND, ("band-inside-out",), _words)
