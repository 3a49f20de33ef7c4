"""Finds places in the source: the name that is meant in a list, and the table that a place belongs to."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Protocol

from planbook.model import Design, Node, Operation
from planbook.text import Place
from planbook.workshop.fields import specs
from planbook.workshop.registry import operations

NAMING = (
    "piece",
    "piece names",
    "stencil",
    "tool",
    "supply",
    "stock names",
    "names",
    "text",
    "makes",
    "moves",
)
"""The sorts of fields that hold names, in the words of `planbook.workshop.fields`."""


def narrowed(place: Place, name: str, design: Design) -> Place:
    """The place of a name written at or below a value or an operation; the place itself where it is not."""
    if not name:
        return place
    for top in _around(place, design):
        for node in nodes(top):
            if node.value == name:
                return node.place
            if name in node.table():
                return node.table()[name].named_at
    return place


def _around(place: Place, design: Design) -> Iterator[Node]:
    for operation in design.operations:
        if operation.place == place:
            yield from naming(operation)
        elif operation.place.file == place.file:
            yield from (node for node in nodes(operation.fields) if node.place == place)
    for fit in design.fits.values():
        yield from (node for field in fit.fields.values() for node in nodes(field) if node.place == place)


def naming(operation: Operation) -> Iterator[Node]:
    """The values of an operation's fields that hold names; all of them where the operation is unknown."""
    kind = operations().get(operation.kind)
    named = {spec.name for spec in specs(kind) if spec.what in NAMING} | {"pieces"} if kind else None
    for field, node in operation.fields.table().items():
        if named is None or field in named:
            yield node


def nodes(top: Node) -> Iterator[Node]:
    """A value and all values in it, in the order in which they are written."""
    yield top
    for node in _within(top):
        yield from nodes(node)


def _within(node: Node) -> Iterable[Node]:
    if isinstance(node.value, Mapping):
        return node.table().values()
    return node.value if isinstance(node.value, tuple) else ()


def texts(top: Node) -> Iterator[str]:
    """Every text and every key in a value."""
    for node in nodes(top):
        if isinstance(node.value, str):
            yield node.value
        yield from node.table()


def owner(place: Place, design: Design) -> str:
    """What a place in `design.toml` belongs to (board `left`): the last thing that begins before it."""
    begun = [
        (each.place, noun, name)
        for noun, table in _tables(design)
        for name, each in table.items()
        if each.place.file == place.file and _start(each.place) <= _start(place)
    ]
    if not begun:
        return "the design"
    _, noun, name = max(begun, key=lambda each: _start(each[0]))
    return f"{noun} `{name}`"


def _start(place: Place) -> tuple[int, int]:
    return place.line, place.column


class _Placed(Protocol):
    @property
    def place(self) -> Place: ...


def _tables(design: Design) -> Iterable[tuple[str, Mapping[str, _Placed]]]:
    return (
        ("size", design.sizes),
        ("board", design.stock),
        ("shape", design.shapes),
        ("stencil", design.stencils),
        ("tool", design.tools),
        ("supply", design.supplies),
        ("fit", design.fits),
    )


def operation_at(place: Place, design: Design) -> Operation | None:
    """The operation that a place belongs to: its own place, or that of a value in its block."""
    for operation in design.operations:
        if operation.place == place or any(node.place == place for node in nodes(operation.fields)):
            return operation
    return None
