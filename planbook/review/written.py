"""What the operations of a design name as they are written, whether or not they could be carried out."""

from collections.abc import Iterator

from planbook.model import Node, Operation
from planbook.review.pointing import naming, texts
from planbook.workshop import Timeline
from planbook.workshop.fields import specs
from planbook.workshop.registry import operations

UNKNOWN = {
    "stencil": "stencil-unknown",
    "tool": "tool-unknown",
    "supply": "supply-unknown",
    "stock names": "stock-unknown",
}
"""The trouble of a mistyped name, by the sort of its field."""
STICKING = ("stick", "peel")
"""Operations that handle a stencil but do not work to it."""


def named(operation: Operation, what: str) -> set[str]:
    """The names in the fields of one sort ("tool", "stencil"); all texts where the operation is unknown."""
    kind = operations().get(operation.kind)
    if kind is None:
        return set(texts(operation.fields))
    table = operation.fields.table()
    nodes = [table[spec.name] for spec in specs(kind) if spec.what == what and spec.name in table]
    return {text for node in nodes for text in texts(node)}


def named_anywhere(timeline: Timeline, what: str) -> set[str]:
    """The names in the fields of one sort of every operation, and those that a mistyped one may stand for."""
    written = {name for operation in timeline.design.operations for name in named(operation, what)}
    return written.union(*(trouble.facts.get("near", ()) for trouble in timeline.troubles_of(UNKNOWN[what])))


def fields_of(operation: Operation) -> dict[str, Node | None]:
    """The fields that an operation may have, with what is written in them."""
    kind = operations().get(operation.kind)
    table = operation.fields.table()
    return {spec.name: table.get(spec.name) for spec in specs(kind)} if kind else dict(table)


def broken(timeline: Timeline) -> tuple[Operation, ...]:
    """The operations that were not carried out."""
    done = {(event.at.step, event.at.number) for event in timeline.events}
    return tuple(op for op in timeline.design.operations if (op.step, op.number) not in done)


def may_be_stuck(stencil: str, step: int, timeline: Timeline) -> bool:
    """Whether a sticking up to a step that was not carried out may have been of this stencil."""
    known = timeline.design.stencils
    failed = [op for op in broken(timeline) if op.kind == "stick" and op.step <= step]
    return any(stencil in names or names.isdisjoint(known) for names in (named(op, "stencil") for op in failed))


def names_of_broken(timeline: Timeline) -> set[str]:
    """Every name in an operation that was not carried out: nothing is known of these pieces."""
    return {name for operation in broken(timeline) for name in _spelled(operation)}


def follows_broken(name: str, timeline: Timeline) -> bool:
    """Whether a piece may be one of those that a broken operation names with a `*`."""
    patterns = [text for op in broken(timeline) for text in texts(op.fields) if "*" in text]
    return any(_fits(name, pattern) for pattern in patterns)


def _fits(name: str, pattern: str) -> bool:
    start, _, end = pattern.partition("*")
    return len(name) > len(start) + len(end) and name.startswith(start) and name.endswith(end)


def _spelled(operation: Operation) -> Iterator[str]:
    table = operation.fields.table()
    pieces = [text for key in ("piece", "pieces") if key in table for text in texts(table[key])]
    for node in naming(operation):
        for text in texts(node):
            yield text
            if "*" in text:
                yield from (text.replace("*", piece) for piece in pieces)
