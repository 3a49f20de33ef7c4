"""A measure that must be more than zero is not."""

from fractions import Fraction

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.units import show_minutes
from planbook.workshop import Trouble

KIND = Kind(
    "OPE09",
    "not-positive",
    Severity.ERROR,
    "A thickness, depth, radius or time that must be more than zero is zero or less.",
    "A layer of no thickness cannot be sawn.",
    'thickness = "12 mm - 20 mm"',
    'thickness = "20 mm - 12 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    field, value = trouble.facts.get("field"), trouble.facts["value"]
    shown = show_minutes(Fraction(value)) if trouble.facts.get("what") == "time" else say.length(value)
    named = f"`{field}` " if field else "a measure "
    return Words(f"{named}in {say.who(trouble)} comes to {shown}, but must be more than zero", shown)


check = Told(KIND, ("not-positive",), _words)
