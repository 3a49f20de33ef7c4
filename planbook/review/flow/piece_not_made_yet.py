"""A piece is taken before the step that makes it; not one that is used up."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, bench_note, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "FLO03",
    "piece-not-made-yet",
    Severity.ERROR,
    "A step takes a piece that only a later step makes.",
    "Whoever follows the plan does not have it at that moment.",
    '## Sand the lid\npiece = "lid"\n\n## Saw the lid\nmakes = { lid = "inside", rim = "outside" }',
    '## Saw the lid\nmakes = { lid = "inside", rim = "outside" }\n\n## Sand the lid\npiece = "lid"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    name, later = trouble.facts["piece"], trouble.facts["later"]
    when = f"only step {later} makes it" if later != trouble.step else "it is made only afterwards"
    return Words(
        f"{say.takes(trouble)} {short(name)}, but {when}",
        "not on the bench yet",
        bench_note(trouble.facts["bench"]),
        at=name,
    )


check = Told(KIND, ("piece-not-made-yet",), _words)
