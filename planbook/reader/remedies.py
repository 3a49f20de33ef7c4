"""Makes the records of what a reader can do when something went wrong, and checks what they lead to."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planbook.model import Node, Prose, Remedy, Step
from planbook.reader import kinds
from planbook.reader.checking import Checked
from planbook.reader.formulas import within
from planbook.reader.prose import Lines, prose_of
from planbook.reader.toml_text import BROKEN
from planbook.reader.words import did_you_mean, thing
from planbook.text import Finding, Place, Source

_TEXTS = ("seen", "why", "mend")


def remedies_of(made: Checked, steps: Sequence[Step]) -> dict[str, Remedy]:
    """The remedies by name, each with the number of its step."""
    numbers = {step.title: step.number for step in reversed(steps)}
    return {name: _remedy(made, name, numbers) for name in made.remedies}


def _remedy(made: Checked, name: str, numbers: dict[str, int]) -> Remedy:
    table, node = made.remedies[name], made.entries("remedies")[name]
    there = node.table()
    seen, why, mend = (_prose(there[key], made.source)[0] if key in there else Prose("", node.place) for key in _TEXTS)
    return Remedy(
        name,
        seen,
        why,
        mend,
        node.named_at,
        table.piece or "",
        there["piece"].place if "piece" in there else None,
        numbers.get(_title(table.step or ""), 0),
        table.fit or "",
    )


def check_remedies(made: Checked, steps: Sequence[Step]) -> Iterator[Finding]:
    """Fits and steps that are not there, and stray braces; nothing is said of steps where none were read."""
    for name, table in made.remedies.items():
        there = made.entries("remedies")[name].table()
        for key in (each for each in _TEXTS if each in there):
            for stray in _prose(there[key], made.source)[1]:
                said = stray.headline.partition(" has ")[2]
                yield replace(stray, headline=f"{thing(('remedies', name, key))} has {said}")
        fits, titles = list(made.entries("fits")), [step.title for step in steps]
        if table.fit is not None and table.fit not in (*fits, BROKEN) and not made.lost:
            yield _nothing(made, name, "fit", there["fit"], fits)
        if table.step is not None and titles and _title(table.step) not in (*titles, BROKEN):
            yield _nothing(made, name, "step", there["step"], titles)


def _nothing(made: Checked, name: str, what: str, node: Node, known: list[str]) -> Finding:
    value = str(node.value)
    headline = f"remedy `{name}` is about the {what} `{value[:80]}`, but no {what} is called that"
    hint = did_you_mean(made.found.near(value, known)) if len(value) <= 80 else ""
    return kinds.REMEDY_FOR_NOTHING.at(node.place, headline, label=f"no such {what}", hint=hint)


def _prose(node: Node, source: Source) -> tuple[Prose, list[Finding]]:
    """A text of the file as prose, with the places of its names where they are plain to see in the file."""
    text, place = str(node.value), node.place
    lines = text.count("\n") + 1
    prose, findings = prose_of(Lines(source.file, 1, text, ((0, lines),)))

    def moved(of: Place) -> Place:
        return place if lines > 1 else within(place, of.column - 1, of.length, source)

    mentions = (replace(each, place=moved(each.place)) for each in prose.mentions)
    lengths = (replace(each, place=moved(each.place)) for each in prose.lengths)
    told = [replace(each, place=moved(each.place)) for each in findings]
    return Prose(text, place, tuple(mentions), tuple(lengths)), told


def _title(text: str) -> str:
    return " ".join(text.split())
