"""A block names more or fewer pieces than it makes."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE11",
    "count-differs",
    Severity.ERROR,
    "A block that cuts one piece at each point has more or fewer names than points.",
    "A piece without a name cannot be used, and a name without a piece is a mistake.",
    'at = [["20 mm", "20 mm"], ["60 mm", "20 mm"]]\nmakes = ["left knob"]',
    'at = [["20 mm", "20 mm"], ["60 mm", "20 mm"]]\nmakes = ["left knob", "right knob"]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    points, names = trouble.facts["points"], trouble.facts["names"]
    return Words(
        f"step {trouble.step} cuts at {_counted(points, 'point')}, but `makes` has {_counted(names, 'name')}",
        f"{_counted(names, 'name')} for {_counted(points, 'point')}",
    )


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"


check = Told(KIND, ("count-differs",), _words)
