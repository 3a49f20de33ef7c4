"""A piece is taken that no step makes; not one that is there at another time."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, bench_note, meant, short
from planbook.review.written import follows_broken
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "FLO01",
    "piece-unknown",
    Severity.ERROR,
    "A step takes a piece that is never made.",
    "A reader of the plan would look for it on the bench, and it is mostly a mistyped name.",
    'makes = "blank"\n...\npiece = "blnk"',
    'makes = "blank"\n...\npiece = "blank"',
)


def _words(trouble: Trouble, say: Say) -> Words | None:
    name = trouble.facts["piece"]
    same = [t for t in say.timeline.troubles_of("piece-unknown") if t.facts["piece"] == name]
    if same[0] is not trouble or follows_broken(name, say.timeline):
        return None
    again = dict.fromkeys(say.who(other) for other in same[1:])
    return Words(
        f"{say.takes(trouble)} {short(name)}, but no piece is called that",
        "no such piece",
        (*bench_note(trouble.facts["bench"]), *((f"named again: {', '.join(again)}",) if again else ())),
        meant(trouble.facts["near"]),
        name,
    )


check = Told(KIND, ("piece-unknown",), _words)
