"""Two pieces are put where both would have to be at once."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA22",
    "pieces-overlap",
    Severity.ERROR,
    "Two pieces are put together so that they would take up the same room.",
    "Wood does not give way: a measure or a move is wrong.",
    'moves = { drawer = ["0 mm", "-4 mm", "0 mm"] }   (into the back)',
    'moves = { drawer = ["0 mm", "0 mm", "0 mm"] }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    facts = trouble.facts
    first, second = short(facts["first"]), short(facts["second"])
    notes: tuple[str, ...] = ()
    if "where" in facts:
        notes = (f"around {say.spot(facts['where'])}, over {say.box(facts['extent'])}",)
    return Words(
        f"step {trouble.step} puts {first} and {second} into each other: {say.volume(facts['volume'])} of wood twice",
        "in each other's way",
        notes,
    )


check = Told(KIND, ("pieces-overlap",), _words)
