"""A shape has too little to be drawn from."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA29",
    "shape-lacks",
    Severity.ERROR,
    "A shape has fewer points or fields than its kind needs.",
    "Two points make a line; an area needs three.",
    'kind = "polygon"\npoints = [["0 mm", "0 mm"], ["40 mm", "0 mm"]]',
    'kind = "polygon"\npoints = [["0 mm", "0 mm"], ["40 mm", "0 mm"], ["0 mm", "30 mm"]]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    shape, lacks, kind = (trouble.facts[key] for key in ("shape", "field", "kind"))
    return Words(f"shape {short(shape)} lacks {lacks}, which a {kind} needs", f"needs {lacks}")


check = Told(KIND, ("shape-lacks",), _words)
