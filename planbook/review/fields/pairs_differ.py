"""Two lists of points that belong together differ in length."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE21",
    "pairs-differ",
    Severity.ERROR,
    "A block that bores pairs of holes has more points for one piece than for the other.",
    "Every dowel needs a hole in both.",
    'at = [["10 mm", "20 mm"], ["30 mm", "20 mm"]]\nother_at = [["50 mm", "20 mm"]]',
    'at = [["10 mm", "20 mm"], ["30 mm", "20 mm"]]\nother_at = [["50 mm", "20 mm"], ["30 mm", "20 mm"]]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    points, others = trouble.facts["points"], trouble.facts["others"]
    return Words(
        f"step {trouble.step} bores pairs of holes, with {points} in `at` and {others} in `other_at`",
        f"{others} here, {points} in `at`",
    )


check = Told(KIND, ("pairs-differ",), _words)
