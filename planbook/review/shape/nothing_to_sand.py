"""Wood is sanded to a line beyond which there is none."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, name_list, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA11",
    "nothing-to-sand",
    Severity.ERROR,
    "Wood is sanded to a line, but no wood is left beyond it.",
    "The saw left nothing there: the line is in the wrong place, or `leave` is missing from the cut before.",
    '```saw\nstencil = "outline"\n```\n\n```sand to line\nstencil = "outline"\n```',
    '```saw\nstencil = "outline"\nleave = "0.5 mm"\n```\n\n```sand to line\nstencil = "outline"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, lines = trouble.facts["piece"], trouble.facts["lines"]
    return Words(
        f"step {trouble.step} sands {short(piece)} to {name_list(lines, 'and')}, but there is no wood beyond it",
        "nothing to sand",
        hint="let the cut before it `leave` some wood outside the line",
    )


check = Told(KIND, ("nothing-to-sand",), _words)
