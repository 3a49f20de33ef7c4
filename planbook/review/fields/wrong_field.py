"""A field holds a value of another sort than it takes."""

from planbook.review.field_words import EXAMPLES, wanted_of
from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE04",
    "wrong-field",
    Severity.ERROR,
    "A field of a block holds another sort of value than it takes, such as one length for a list.",
    "Only a value of the right sort can be read in one way.",
    'to = "80 mm"',
    'to = ["80 mm", "19 mm", "40 mm"]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    field, operation = trouble.facts["field"], trouble.facts["operation"]
    wanted = wanted_of(trouble.facts["expected"])
    example = EXAMPLES.get(trouble.facts["what"], "")
    return Words(
        f"step {trouble.step} has a `{field}` in its `{operation}` block that is not {wanted}",
        f"must be {wanted}",
        hint=f"write it like `{field} = {example}`" if example else "",
    )


check = Told(KIND, ("wrong-field",), _words)
