"""A line inside the wood is sawn that the blade cannot get to."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, name_list, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA03",
    "no-way-in",
    Severity.ERROR,
    "A line in the middle of the wood is sawn, but the blade has no way to it.",
    "A blade comes in from the edge, or through a hole.",
    '```saw\nlines = ["opening"]\n```',
    '```saw\nlines = ["opening"]\nentry = ["way in"]\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    facts = trouble.facts
    headline = (
        f"step {trouble.step} saws `{facts['lines']}` inside {short(facts['piece'])}, but the blade has no way in"
    )
    if facts["entry"]:
        headline = f"{headline} by {name_list(facts['entry'], 'and')}"
    hint = "make the entry line reach from the edge of the wood, or from a hole, to the cut"
    if not facts["entry"]:
        hint = "name an open line from the edge or a hole to the cut in `entry`, or bore a hole in the line first"
    return Words(headline, "starts inside the wood", hint=hint)


check = Told(KIND, ("no-way-in",), _words)
