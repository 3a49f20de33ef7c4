"""A stencil is worked to that is not on this piece: its face is gone or hidden, or it is on another piece."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.review.written import may_be_stuck
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "FLO09",
    "stencil-gone",
    Severity.ERROR,
    "A step works to a stencil that is not on the piece any more, or is on another one.",
    "A stencil goes with its face: sawn off, sanded off, glued over, or peeled off.",
    '```slice\nface = "front"\nmakes = { face = "layer", block = "rest" }\n```\n\n'
    '```saw\npiece = "block"\nstencil = "outline"\n```',
    '```slice\nface = "front"\nmakes = { face = "layer", block = "rest" }\n```\n\n'
    '```saw\npiece = "face"\nstencil = "outline"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words | None:
    stencil, piece = trouble.facts["stencil"], trouble.facts["piece"]
    if may_be_stuck(stencil, trouble.step, say.timeline):
        return None
    holders = _holders(stencil, trouble.step, say)
    return Words(
        f"step {trouble.step} works {short(piece)} to stencil {short(stencil)}, which is not on it",
        "not on this piece",
        tuple(f"the stencil is still on {short(name)}" for name in holders),
        "" if holders else f"stick stencil {short(stencil)} on {short(piece)} again before this",
        stencil,
    )


def _holders(stencil: str, step: int, say: Say) -> list[str]:
    """Pieces that carry the stencil at the end of the work done up to a step."""
    done = [event for event in say.timeline.events if event.at.step <= step]
    bench = done[-1].bench.values() if done else ()
    return [piece.name for piece in bench if any(s.stencil.name == stencil for s in piece.stuck)]


check = Told(KIND, ("stencil-face-gone",), _words)
