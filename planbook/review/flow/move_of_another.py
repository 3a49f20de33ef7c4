"""An assembly moves a piece that does not belong to it."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.units import near
from planbook.workshop import Trouble

KIND = Kind(
    "FLO14",
    "move-of-another",
    Severity.ERROR,
    "`moves` names a piece that is not among the `pieces` of the same block.",
    "Only what is put together here can be moved here.",
    'pieces = ["box", "lid"]\nmoves = { drawer = ["0 mm", "0 mm", "2 mm"] }',
    'pieces = ["box", "lid"]\nmoves = { lid = ["0 mm", "0 mm", "2 mm"] }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    name, pieces = trouble.facts["piece"], trouble.facts["pieces"]
    return Words(
        f"step {trouble.step} moves {short(name)}, which is not among the pieces it puts together",
        "not one of `pieces`",
        known_note("the pieces", pieces),
        meant(near(name, pieces)),
        name,
    )


check = Told(KIND, ("move-of-another",), _words)
