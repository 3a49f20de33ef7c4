"""Things of the handbook that the prose of a step speaks of by name; not whether the design lists them."""

import re
from collections.abc import Iterator, Mapping
from functools import cache

from planbook.handbook import finishes, glues, linings
from planbook.reader.ruled_out import NOT_MEANT
from planbook.review.spoken import prose_of
from planbook.workshop import Timeline

MACHINES = {
    "band saw": "band saw",
    "bandsaw": "band saw",
    "scroll saw": "scroll saw",
    "table saw": "table saw",
    "router": "router",
    "disc sander": "disc sander",
    "drum sander": "drum sander",
}
"""Machines by the words for them, and their kind in a design."""


@cache
def supply_words() -> Mapping[str, str]:
    """Every name of a finish, glue or lining of the handbook, and the row that it stands for."""
    rows = [*finishes().values(), *glues().values(), *linings().values()]
    return {name.replace("-", " ").lower(): row.name for row in rows for name in (row.name, *row.aliases)}


def spoken_of(timeline: Timeline, step: int, words: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """(the word, what it stands for) of everything that a step speaks of and does not rule out, the longest first."""
    text = re.sub(r"[-\s]+", " ", prose_of(timeline, step))
    for match in _pattern(tuple(words)).finditer(text):
        meant = words.get(match[0].lower())
        if meant and not NOT_MEANT.search(text[: match.start()]):
            yield match[0], meant


@cache
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    longest = sorted((re.escape(word) for word in words), key=len, reverse=True)
    return re.compile(rf"(?<!\w)(?:{'|'.join(longest)})(?!\w)", re.IGNORECASE)
