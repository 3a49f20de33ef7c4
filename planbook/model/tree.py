"""Values of a design file before they are given a meaning, each with its place."""

from collections.abc import Mapping
from dataclasses import dataclass

from planbook.text import Place


@dataclass(frozen=True, slots=True)
class Node:
    """One TOML value: a scalar, a tuple of nodes or a mapping of nodes. `key` is where its key stands."""

    value: "str | int | float | bool | tuple[Node, ...] | Mapping[str, Node] | object"
    place: Place
    key: Place | None = None

    @property
    def named_at(self) -> Place:
        """Where the key stands, or the value where there is no key."""
        return self.key or self.place

    def table(self) -> "Mapping[str, Node]":
        """The entries of a table; empty for anything else."""
        return self.value if isinstance(self.value, Mapping) else {}
