"""A bare number stands where a length is wanted."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE06",
    "length-needs-unit",
    Severity.ERROR,
    "A bare number stands in a block where a length is wanted.",
    "12 what? Millimetres and inches are both at home in this trade.",
    "thickness = 12",
    'thickness = "12 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    field, value = trouble.facts["field"], trouble.facts["value"]
    unit = say.timeline.design.card.units
    return Words(
        f"step {trouble.step} has {value} for `{field}`, a length without a unit",
        "needs a unit",
        hint=f'write `"{value} {unit}"`, or the unit that is meant',
    )


check = Told(KIND, ("needs-unit",), _words)
