"""A block names a line or hole that its stencil does not have."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.units import near
from planbook.workshop import Trouble

KIND = Kind(
    "OPE13",
    "not-on-stencil",
    Severity.ERROR,
    "A block names a line or a hole that its stencil does not have.",
    "There is nothing on the sheet to follow.",
    '[stencils.front]\nlines = { outline = "arch" }\n\n```saw\nstencil = "front"\nlines = ["outlin"]\n```',
    '[stencils.front]\nlines = { outline = "arch" }\n\n```saw\nstencil = "front"\nlines = ["outline"]\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    noun = "line" if trouble.kind == "line-unknown" else "hole"
    name, stencil, known = (trouble.facts[key] for key in (noun, "stencil", "known"))
    close = near(name, known)
    return Words(
        f"step {trouble.step} names {noun} {short(name)}, which stencil {short(stencil)} does not have",
        f"no such {noun}",
        () if close else known_note(f"{noun}s of the stencil", known),
        meant(close),
        name,
    )


check = Told(
    KIND,
    (
        "line-unknown",
        "hole-unknown",
    ),
    _words,
)
