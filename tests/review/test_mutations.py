"""The sample designs with one thing spoilt: the review must see each of them, by a rule that is meant for it.

The mutations stand in `tests/cases/mutations/SAMPLE.toml`. Each has a `name` and one or more edits of the texts:

- `drop = "Title"`: a step is left out; `swap = ["Title", "Title"]`: two steps change places;
- `step = "Title"` with `cut = "kind"`: an operation is left out, of several of a kind the one that holds `holding`;
- `step = "Title"`, or `table = "[header]"` of design.toml, or neither (the whole of design.toml), with `find` and `put`:
  a regular expression is replaced, which must match exactly once there.

`codes` are the findings of which at least one must come of it. With `prove` the envelope is looked at as well. A mutation
with `still` can be built: it makes another object, for the reason given. It is not counted, and where it has no `codes`
nothing may be found.
"""

import re
import shutil
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from planbook.pipeline import check

ROOT = Path(__file__).parents[2]
CASES = ROOT / "tests" / "cases" / "mutations"
SAMPLES = sorted(path.stem for path in CASES.glob("*.toml"))
AT_LEAST = 100

Texts = tuple[str, str]
"""design.toml and steps.md."""


@dataclass(frozen=True, slots=True)
class Mutation:
    """One way to spoil a sample."""

    sample: str
    name: str
    edits: tuple[Mapping[str, Any], ...]
    codes: frozenset[str]
    prove: bool
    still: str


def _mutations() -> Iterator[Mutation]:
    for sample in SAMPLES:
        for row in tomllib.loads((CASES / f"{sample}.toml").read_text("utf-8"))["mutations"]:
            edits = tuple(row.get("edits", (row,)))
            codes = frozenset(row.get("codes", ()))
            yield Mutation(sample, row["name"], edits, codes, row.get("prove", False), row.get("still", ""))


MUTATIONS = tuple(_mutations())
SPOILING = tuple(each for each in MUTATIONS if not each.still)


def mutated(texts: Texts, edit: Mapping[str, Any]) -> Texts:
    """The texts with one edit. Raises AssertionError if its spot is not found exactly once."""
    design, steps = texts
    if "drop" in edit:
        return design, within(steps, section(edit["drop"]), lambda _: "")
    if "swap" in edit:
        return design, swapped(steps, *edit["swap"])
    if "cut" in edit:
        return design, within(steps, section(edit["step"]), lambda text: without_block(text, edit))
    if "step" in edit:
        return design, within(steps, section(edit["step"]), lambda text: replaced(text, edit))
    place = rf"^{re.escape(edit['table'])}$.*?(?=^\[|\Z)" if "table" in edit else r"\A.*\Z"
    return within(design, place, lambda text: replaced(text, edit)), steps


def section(title: str) -> str:
    """The expression for a step with its heading."""
    return rf"^## {re.escape(title)}$.*?(?=^## |\Z)"


def within(text: str, place: str, change: Callable[[str], str]) -> str:
    """The text with a change at the one spot that an expression matches."""
    (spot,) = re.finditer(place, text, re.MULTILINE | re.DOTALL)
    return text[: spot.start()] + change(spot[0]) + text[spot.end() :]


def replaced(text: str, edit: Mapping[str, Any]) -> str:
    """The text with what is found, exactly once, replaced."""
    put: str = edit["put"]
    return within(text, edit["find"], lambda _: put)


def swapped(text: str, one: str, other: str) -> str:
    """The text with two steps in each other's place."""
    (first,) = re.finditer(section(one), text, re.MULTILINE | re.DOTALL)
    (second,) = re.finditer(section(other), text, re.MULTILINE | re.DOTALL)
    assert first.end() <= second.start()
    between = text[first.end() : second.start()]
    return text[: first.start()] + second[0].rstrip("\n") + "\n\n" + between + first[0] + text[second.end() :]


def without_block(text: str, edit: Mapping[str, Any]) -> str:
    """The text of a step without one of its operations."""
    blocks = re.findall(rf"^```{edit['cut']}\n.*?^```\n", text, re.MULTILINE | re.DOTALL)
    (block,) = [each for each in blocks if edit.get("holding", "") in each]
    assert text.count(block) == 1
    return text.replace(block, "")


def spoilt(mutation: Mutation, folder: Path) -> Path:
    """The sample with its mutation, in a folder of its own; without its translations, which tell the same steps."""
    for path in (ROOT / "designs" / mutation.sample).iterdir():
        if not re.fullmatch(r"(design|steps)\.[a-z]{2}\.(toml|md)", path.name):
            shutil.copy(path, folder)
    texts = ((folder / "design.toml").read_text("utf-8"), (folder / "steps.md").read_text("utf-8"))
    before = texts
    for edit in mutation.edits:
        texts = mutated(texts, edit)
    assert texts != before
    for name, text in zip(("design.toml", "steps.md"), texts, strict=True):
        (folder / name).write_text(text, "utf-8")
    return folder


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda each: f"{each.sample}: {each.name}")
def test_mutation_is_caught_by_the_right_rule(mutation: Mutation, tmp_path: Path) -> None:
    found = {each.code for each in check(spoilt(mutation, tmp_path), nominal=not mutation.prove).findings}
    if mutation.codes:
        assert found & mutation.codes, f"found {sorted(found)}"
    else:
        assert found == set(), mutation.still


def test_there_are_enough_mutations_of_every_sample() -> None:
    assert len(SPOILING) >= AT_LEAST
    assert set(SAMPLES) == {path.name for path in (ROOT / "designs").iterdir() if path.is_dir()}
    assert all(each.codes for each in SPOILING)
    assert len({(each.sample, each.name) for each in MUTATIONS}) == len(MUTATIONS)
