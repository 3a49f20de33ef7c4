"""A shape has an outline that crosses itself."""

from collections.abc import Sequence

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA25",
    "shape-crosses-itself",
    Severity.ERROR,
    "The outline of a shape crosses or touches itself.",
    "It does not say what is inside and what is outside.",
    'points = [["0 mm", "0 mm"], ["40 mm", "40 mm"], ["40 mm", "0 mm"], ["0 mm", "40 mm"]]',
    'points = [["0 mm", "0 mm"], ["40 mm", "0 mm"], ["40 mm", "40 mm"], ["0 mm", "40 mm"]]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    name, where = trouble.facts["shape"], trouble.facts["where"]
    return Words(
        f"shape {short(name)} has an outline that crosses or touches itself{_near(where, say)}",
        "crosses itself",
    )


def _near(where: Sequence[float] | None, say: Say) -> str:
    return f" near {say.length(where[0])} to the right, {say.length(where[1])} up" if where else ""


check = Told(KIND, ("shape-crosses-itself",), _words)
