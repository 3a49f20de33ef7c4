"""Two holes for one dowel do not lie opposite one another."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA47",
    "holes-do-not-meet",
    Severity.ERROR,
    "The points given for the second piece do not lie on those of the first when the two are brought together.",
    "A dowel goes straight through the joint: its two holes have one axis.",
    'at = [["10 mm", "20 mm"]]\nother_at = [["10 mm", "20 mm"]]   (seen from the other side: 50 mm)',
    'at = [["10 mm", "20 mm"]]\nother_at = [["50 mm", "20 mm"]]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    first, second, hole = (short(trouble.facts[key]) for key in ("first", "second", "hole"))
    u, v = trouble.facts["at"]
    return Words(
        f"step {trouble.step} bores {hole} of {second} {say.length(trouble.facts['far'])} beside that of {first}",
        "does not meet its hole",
        (f"they meet at {say.length(u)} to the right and {say.length(v)} up on the face of {second}",),
        hint="leave `other_at` out: it follows from `at`",
    )


check = Told(KIND, ("holes-do-not-meet",), _words)
