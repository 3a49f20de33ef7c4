"""A formula cannot be read or computed at this moment of the build."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, meant
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE07",
    "bad-formula",
    Severity.ERROR,
    "A formula cannot be read or computed: an unknown size, a piece that is not there, a zero below.",
    "The build needs the value to go on.",
    'thickness = "2 * wal"',
    'thickness = "2 * wall"',
)


def _words(trouble: Trouble, say: Say) -> Words:
    names = tuple(filter(None, str(trouble.facts.get("near", "")).split(", ")))
    field = f"`{trouble.facts['field']}`, " if "field" in trouble.facts else ""
    return Words(f"in {field}{say.who(trouble)}, {trouble.facts['message']}", "cannot be computed", hint=meant(names))


check = Told(KIND, ("bad-formula",), _words)
