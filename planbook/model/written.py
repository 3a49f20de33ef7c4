"""Frozen records of `steps.md`: prose with the names and lengths in it, operations, steps."""

from dataclasses import dataclass

from planbook.model.pictures import Moment, Shown
from planbook.model.tree import Node
from planbook.text import Place


@dataclass(frozen=True, slots=True)
class Mention:
    """A `{name}` in prose: the words inside the braces, and where they start in the prose's text."""

    name: str
    offset: int
    place: Place


@dataclass(frozen=True, slots=True)
class TypedLength:
    """A dimension written out in prose, such as `3 mm`."""

    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Prose:
    """A run of Markdown between two operations of a step."""

    text: str
    place: Place
    mentions: tuple[Mention, ...] = ()
    lengths: tuple[TypedLength, ...] = ()


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation as written: its kind is the info string of the fenced block, its fields the TOML inside."""

    kind: str
    fields: Node
    step: int
    number: int
    place: Place


@dataclass(frozen=True, slots=True)
class Step:
    """A second-level heading of steps.md with what stands below it; `number` counts from 1.

    `shown` are the photos that its words ask for, `moment` where the maker's film shows it.
    """

    number: int
    title: str
    parts: tuple[Prose | Operation, ...]
    place: Place
    shown: tuple[Shown, ...] = ()
    moment: Moment | None = None

    @property
    def operations(self) -> tuple[Operation, ...]:
        """The operations of the step, in order."""
        return tuple(part for part in self.parts if isinstance(part, Operation))

    @property
    def prose(self) -> tuple[Prose, ...]:
        """The prose of the step, in order."""
        return tuple(part for part in self.parts if isinstance(part, Prose))
