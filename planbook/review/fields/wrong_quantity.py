"""A formula comes to another kind of value than is wanted."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE08",
    "wrong-quantity",
    Severity.ERROR,
    "A formula comes to an angle, an area or a number where a length is wanted, or the other way round.",
    "No fence can be set to it.",
    'thickness = "wall * wall"',
    'thickness = "2 * wall"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    wanted = "an angle" if trouble.kind == "not-an-angle" else "a length"
    field = trouble.facts.get("field")
    named = f"`{field}` " if field else "a formula "
    return Words(
        f"{named}in {say.who(trouble)} comes to {trouble.facts['found']}, where {wanted} is wanted",
        f"{trouble.facts['found']}, not {wanted}",
    )


check = Told(
    KIND,
    (
        "not-a-length",
        "not-an-angle",
    ),
    _words,
)
