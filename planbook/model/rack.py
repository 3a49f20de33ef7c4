"""Frozen records of a reader's own boards, bars, sheets and offcuts, as they wrote them; lengths are exact mm."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from planbook.text import Place, Sources

RackKind = Literal["board", "bar", "sheet", "offcut"]
SETTINGS = (
    "kerf",
    "edge_trim",
    "end_trim",
    "squaring_width",
    "squaring_length",
    "keep_width",
    "keep_length",
)
"""What a rack may set for itself instead of the handbook, all lengths in mm."""


@dataclass(frozen=True, slots=True)
class RackDefect:
    """A rectangle to keep clear of: x across from one long edge, y along from one end, in mm."""

    x: Fraction
    y: Fraction
    width: Fraction
    length: Fraction
    place: Place


@dataclass(frozen=True, slots=True)
class RackRow:
    """`count` boards alike; `planed` ones are used as thick as they are, the others lose the saw marks first."""

    name: str
    kind: RackKind
    wood: str
    thickness: Fraction
    width: Fraction
    length: Fraction
    count: int
    planed: bool
    defects: tuple[RackDefect, ...]
    place: Place
    thickness_at: Place


@dataclass(frozen=True, slots=True)
class Rack:
    """Everything in the rack, in the order of the file, and what it sets for the saw."""

    file: str
    rows: tuple[RackRow, ...]
    settings: Mapping[str, Fraction] = field(default_factory=dict)
    places: Mapping[str, Place] = field(default_factory=dict)
    sources: Sources = field(default_factory=dict)
