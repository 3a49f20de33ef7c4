"""What a release is, in numbers that can be compared: pieces, sizes, steps, stencils, lumber, fits. Lengths in mm."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from functools import cache
from typing import Any, Literal

from planbook.archive.problem import Damaged

FORM = 1
MOST_BYTES = 16_000_000
Dimension = Literal["length", "area", "volume", "angle", "number", "other"]
Sides = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Measure:
    """A value in mm, mm2, mm3, degrees or plain."""

    value: float
    kind: Dimension


Value = str | tuple[Measure, ...]


@dataclass(frozen=True, slots=True)
class PieceFact:
    """A piece at the end: length along the grain, width and thickness of its box (mm), its volume (mm3), its woods."""

    box: Sides
    volume: float
    woods: tuple[str, ...]
    ending: str


@dataclass(frozen=True, slots=True)
class Did:
    """One operation as it was carried out."""

    kind: str
    taken: tuple[str, ...]
    made: tuple[str, ...]
    tools: tuple[str, ...]
    settings: Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class StepFact:
    """A step: its title, a digest of its words, and what is done in it."""

    title: str
    words: str
    work: tuple[Did, ...]


@dataclass(frozen=True, slots=True)
class StencilFact:
    """A sheet: its number, its face in mm, a digest of all that must be true to size, and one of its words."""

    number: int
    face: tuple[float, float]
    geometry: str
    words: str


@dataclass(frozen=True, slots=True)
class LumberFact:
    """Boards to buy: wood, length, width and thickness in mm, how many."""

    wood: str
    size: Sides
    count: int


@dataclass(frozen=True, slots=True)
class FitFact:
    """A fit: what is asked, and what was found over everything that may vary; mm, None where there is no such end."""

    kind: str
    asked_least: float | None
    asked_most: float | None
    least: float | None
    most: float | None


@dataclass(frozen=True, slots=True)
class Facts:
    """All of it. `words` are what the cover says, by name; `lumber` is named by its boards."""

    title: str
    units: Literal["in", "mm"]
    words: Mapping[str, str]
    sizes: Mapping[str, Measure]
    pieces: Mapping[str, PieceFact]
    steps: tuple[StepFact, ...]
    stencils: Mapping[str, StencilFact]
    lumber: Mapping[str, LumberFact]
    fits: Mapping[str, FitFact]
    tools: tuple[str, ...]
    supplies: Mapping[str, str]
    form: int = FORM


def facts_json(facts: Facts) -> bytes:
    """Facts as they are kept."""
    text = json.dumps(asdict(facts), ensure_ascii=False, indent=1, sort_keys=True, allow_nan=False)
    return f"{text}\n".encode("utf-8", "replace")


def read_facts(data: bytes, name: str) -> Facts:
    """The facts of the release `name`. Raises Damaged where they have another form."""
    try:
        if len(data) > MOST_BYTES:
            raise ValueError("too large")
        found: Facts = _adapter().validate_json(data)
        if facts_json(found) != data:
            raise ValueError("not in its one form")
    except (ValueError, RecursionError):
        raise Damaged(f"the facts of `{name}` cannot be read", name) from None
    if found.form != FORM:
        raise Damaged(f"the facts of `{name}` have form {found.form}, which another planbook wrote", name)
    return found


@cache
def _adapter() -> Any:
    from pydantic import TypeAdapter

    return TypeAdapter(Facts)
