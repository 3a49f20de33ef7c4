"""A part comes loose that no name was given to."""

from planbook.review.regions import has_mistyped_region
from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA04",
    "part-without-name",
    Severity.ERROR,
    "A cut parts the wood into more parts than it has names for.",
    "Every part is kept on purpose or thrown away on purpose; a forgotten one is a mistake in the cut or in the names.",
    'makes = { arch = "inside" }',
    'makes = { arch = "inside", corners = "outside" }',
)


def _words(trouble: Trouble, say: Say) -> Words | None:
    if has_mistyped_region(trouble, say.timeline):
        return None
    facts = trouble.facts
    volume, named = say.volume(facts["volume"]), facts["named"]
    return Words(
        f"step {trouble.step} cuts off a part of {volume} ({say.box(facts['size'])}) that has no name",
        f"{len(named)} name{'' if len(named) == 1 else 's'}, and one part more",
        (f"its middle is at {say.spot(facts['where'])}",),
        "name it in `makes`, with a region of the stencil that lies in it, or with `rest`",
    )


check = Told(KIND, ("part-without-name",), _words)
