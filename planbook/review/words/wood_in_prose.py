"""Prose names a wood that a choice of the design does not use."""

import re
from collections.abc import Iterator, Mapping

from planbook.handbook import wood
from planbook.model import Choice, Design, with_choice
from planbook.model.choices import wood_called
from planbook.text import Aside, Finding, Kind, Place, Severity, Source
from planbook.workshop import Timeline

KIND = Kind(
    "WOR08",
    "wood-in-prose",
    Severity.WARNING,
    "Prose names a wood of the design, but in one of the design's choices no board is of that wood.",
    "A copy for that choice would speak of a wood that its reader does not have.",
    '[choices.pale]\nwoods = { walnut = "white ash" }\n\nPut the walnut board in front.',
    '[choices.pale]\nwoods = { walnut = "white ash" }\n\nPut the {front board} in front.',
)
HINT = "name the board in braces, or say it so that it holds for every choice"
_UNPRINTED = re.compile(r"<!--.*?-->|\{[^{}\n]*\}", re.DOTALL)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Every wood in the introduction and in the steps that is not in every choice."""
    design = timeline.design.written or timeline.design
    missing = _missing(design)
    if not missing:
        return
    names = (r"\s+".join(map(re.escape, name.split())) for name in sorted(missing, key=len, reverse=True))
    pattern = re.compile(rf"\b(?:{'|'.join(names)})\b", re.IGNORECASE)
    for first, text, where in _texts(design):
        shown = _UNPRINTED.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), text)
        for found in pattern.finditer(shown):
            choice = missing[_one(found[0])]
            inner = Source(first.file, text).at(found.start(), len(found[0]))
            column = inner.column + (first.column - 1 if inner.line == 1 else 0)
            place = Place(first.file, first.line + inner.line - 1, column, inner.length)
            said = where or f"line {place.line}"
            headline = f"{said} speaks of {_one(found[0])}, which the choice `{choice.name}` does not use"
            also = (Aside(choice.place, "the choice"),)
            yield KIND.at(place, headline, label="not in every choice", also=also, hint=HINT)


def _one(name: str) -> str:
    return " ".join(name.lower().split())


def _missing(design: Design) -> Mapping[str, Choice]:
    """Every name of a wood of the design that some choice has no board of, with the first such choice."""
    used = {wood_called(stock.wood) for stock in design.stock.values()}
    found: dict[str, Choice] = {}
    for name, choice in design.choices.items():
        left = {wood_called(stock.wood) for stock in with_choice(design, name).stock.values()}
        for gone in sorted(used - left):
            row = wood(gone)
            for each in (row.name, *row.aliases) if row else ():
                found.setdefault(each, choice)
    return found


def _texts(design: Design) -> Iterator[tuple[Place, str, str]]:
    """The running texts of steps.md: where each begins, and the step, if any."""
    if design.intro and design.steps:
        first = design.steps[0].place
        lines = design.sources[first.file].lines[: first.line - 1] if first.file in design.sources else ()
        yield Place(first.file), "\n".join(lines), ""
    for step in design.steps:
        for prose in step.prose:
            yield prose.place, prose.text, f"step {step.number}"
