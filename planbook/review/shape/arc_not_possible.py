"""An arc that cannot be drawn through its points."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA31",
    "arc-not-possible",
    Severity.ERROR,
    "The ends of an arc are not equally far from its middle, or its three points lie on a straight line.",
    "No compass draws it.",
    'from = ["0 mm", "0 mm"]\nto = [{ to = ["40 mm", "0 mm"], around = ["10 mm", "0 mm"] }]',
    'from = ["0 mm", "0 mm"]\nto = [{ to = ["40 mm", "0 mm"], around = ["20 mm", "0 mm"] }]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    shape = short(trouble.facts["shape"])
    if trouble.kind == "arc-straight":
        return Words(f"shape {shape} has an arc through three points on a straight line", "no arc, but a straight line")
    first, second = say.pair(trouble.facts["first"], trouble.facts["second"])
    return Words(
        f"shape {shape} has an arc that starts {first} from its middle and ends {second} from it",
        "not the same radius at both ends",
    )


check = Told(
    KIND,
    (
        "arc-off-centre",
        "arc-straight",
    ),
    _words,
)
