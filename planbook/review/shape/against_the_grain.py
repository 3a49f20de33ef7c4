"""A cut that should follow the grain goes across it, or the other way round."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA40",
    "against-the-grain",
    Severity.WARNING,
    "A block that works along the grain goes across it in this piece, or the other way round.",
    "A blade for one of the two tears in the other, and a groove across the grain is a dado.",
    '[stock.board]\ngrain = "x"\n\n```rip\npiece = "board"\nface = "right"\n```',
    '[stock.board]\ngrain = "x"\n\n```crosscut\npiece = "board"\nface = "right"\n```',
)
OTHERS = {"rip": "crosscut", "crosscut": "rip", "groove": "dado", "dado": "groove"}


def _words(trouble: Trouble, say: Say) -> Words:
    piece, kind, axis = short(trouble.facts["piece"]), trouble.facts["operation"], trouble.facts["grain"]
    wanted, found = ("along", "across") if trouble.facts["along"] else ("across", "along")
    other = OTHERS.get(kind)
    verb = f"goes {found} the grain of {piece}"
    return Words(
        f"step {trouble.step} has a `{kind}` block, which should go {wanted} the grain, but {verb}",
        f"{found} the grain",
        (f"the grain of {piece} runs along {axis}",),
        hint=f"a cut {found} the grain is a `{other}`" if other else "",
    )


check = Told(KIND, ("against-the-grain",), _words)
