"""The wood of an operation does not add up: a fault of the simulation."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA39",
    "volume-not-conserved",
    Severity.ERROR,
    "After an operation there is more or less wood than before, beyond what was sawn and sanded off.",
    "Wood neither appears nor vanishes: the picture of this step cannot be trusted.",
    "(a fault of planbook, and not of the design)",
    "(every operation of a sound build)",
)


def _words(trouble: Trouble, say: Say) -> Words:
    facts = trouble.facts
    return Words(
        f"step {trouble.step} starts its `{facts['operation']}` with {say.volume(facts['before'])} of wood"
        f" and accounts for {say.volume(facts['after'])}",
        "does not add up",
        ("this is a fault of planbook and not of the design; please report it with the design",),
    )


check = Told(KIND, ("volume-not-conserved",), _words)
