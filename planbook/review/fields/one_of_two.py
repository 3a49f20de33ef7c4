"""A block has both or neither of two fields of which it takes one."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE10",
    "one-of-two",
    Severity.ERROR,
    "A block has both, or neither, of two fields that say the same thing in two ways.",
    "Both could contradict each other; neither says nothing.",
    '```trim\ntake = "5 mm"\nto = "80 mm"\n```',
    '```trim\nto = "80 mm"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    first, second = trouble.facts["fields"]
    both = _both(trouble, say)
    said = f"both `{first}` and `{second}`" if both else f"neither `{first}` nor `{second}`"
    return Words(
        f"step {trouble.step} has a `{trouble.facts['operation']}` block with {said}; it takes one of them",
        "one too many" if both else "one is missing",
    )


def _both(trouble: Trouble, say: Say) -> bool:
    """Whether the block has both fields: it is written at the place of the trouble."""
    operations = say.timeline.design.operations
    written = next((op for op in operations if op.place == trouble.place), None)
    return written is not None and all(name in written.fields.table() for name in trouble.facts["fields"])


check = Told(KIND, ("one-of-two",), _words)
