"""A step speaks of a supply that the design does not list."""

from collections.abc import Iterator

from planbook.handbook import Row, finish, glue, lining
from planbook.review.say import Say, short
from planbook.review.spoken import place_of_word
from planbook.review.spoken_of import spoken_of, supply_words
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP09",
    "supply-not-listed",
    Severity.WARNING,
    "A step speaks of a finish, glue or lining that is not among the supplies.",
    "The list of supplies does not have it: the reader stands there without it.",
    "Rub a little wax into the runners.   (and no wax in the design)",
    'Rub a little wax into the runners.\n\n[supplies.wax]\nkind = "other"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Supplies that only the prose knows."""
    say = Say(timeline)
    known = {row.name for row in _rows(timeline)}
    names = " ".join(f"{each.name} {each.product}" for each in timeline.design.supplies.values())
    listed = names.replace("-", " ").lower()
    seen: set[str] = set()
    for step in timeline.design.steps:
        for word, row in spoken_of(timeline, step.number, supply_words()):
            if row in known or row in seen or word.lower() in listed:
                continue
            seen.add(row)
            yield KIND.at(
                place_of_word(timeline, step.number, word),
                f"step {step.number} {say.title(step.number)} speaks of {short(word.lower())}, which is no supply of"
                " the design",
                label="not in the list of supplies",
                hint=f'add it: `[supplies."{word.lower()}"]`',
            )


def _rows(timeline: Timeline) -> Iterator[Row]:
    for supply in timeline.design.supplies.values():
        for text in (supply.product, supply.name):
            yield from (row for row in (finish(text), glue(text), lining(text)) if row is not None)
