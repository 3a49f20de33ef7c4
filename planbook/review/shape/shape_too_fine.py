"""A drawn shape has more corners than a saw could follow in a day."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA49",
    "shape-too-fine",
    Severity.ERROR,
    "An outline taken from a drawing has more than 20,000 corners once its curves are divided.",
    "It was traced from a picture, or is far larger than meant; a saw follows a few smooth curves.",
    'file = "traced.svg"\nwidth = "9000 mm"',
    'file = "traced.svg"\nwidth = "90 mm"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    shape, most = short(trouble.facts["shape"]), trouble.facts["most"]
    return Words(f"shape {shape} is drawn with more than {most} corners, too many to be sawn", "too many corners")


check = Told(KIND, ("shape-too-fine",), _words)
