"""A piece is taken that an earlier step has used up; not one that was never made."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, bench_note, meant, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "FLO02",
    "piece-already-used",
    Severity.ERROR,
    "A step takes a piece that an earlier step sawed up, glued into another one, or threw away.",
    "A piece exists once: what it was made into has another name.",
    'pieces = ["left cheek", "rail"]\nmakes = "side"\n...\npiece = "left cheek"',
    'pieces = ["left cheek", "rail"]\nmakes = "side"\n...\npiece = "side"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    facts = trouble.facts
    name, used = facts["piece"], facts["used"]
    earlier = "the same step" if used == trouble.step and not say.of_design(trouble) else f"step {used}"
    return Words(
        f"{say.takes(trouble)} {short(name)}, but {earlier} {say.used_up(facts['how'], facts['by'])}",
        "not on the bench any more",
        bench_note(facts["bench"]),
        meant(say.heirs(name, facts["by"], facts["bench"])),
        name,
    )


check = Told(KIND, ("piece-already-used",), _words)
