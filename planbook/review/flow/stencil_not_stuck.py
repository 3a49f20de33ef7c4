"""A stencil is worked to that nobody has stuck on the piece; not one that came off again."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.review.written import may_be_stuck
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "FLO08",
    "stencil-not-stuck",
    Severity.ERROR,
    "A step works to a stencil that no earlier step has stuck on.",
    "There is no line on the wood to follow.",
    '```saw\npiece = "board"\nstencil = "outline"\n```',
    '```stick\npiece = "board"\nstencil = "outline"\n```\n\n```saw\npiece = "board"\nstencil = "outline"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words | None:
    stencil, piece = trouble.facts["stencil"], trouble.facts["piece"]
    if may_be_stuck(stencil, trouble.step, say.timeline):
        return None
    return Words(
        f"step {trouble.step} works {short(piece)} to stencil {short(stencil)}, which nobody has stuck on",
        "not stuck on anything",
        hint=f'stick it on first: a `stick` block with `piece = "{piece}"` and `stencil = "{stencil}"`',
    )


check = Told(KIND, ("stencil-not-stuck",), _words)
