"""What is glued in one go: operations of a step that add to one piece, whose clamps come off together."""

from collections.abc import Collection

from planbook.model import Operation
from planbook.workshop.patterns import meant
from planbook.workshop.shop import Work
from planbook.workshop.timeline import Event


def goes_on(kind: type[Work], operation: Operation, last: Event, names: Collection[str]) -> bool:
    """Whether an operation glues something to a piece that the one before it, in the same step, has glued.

    `names` are those of all pieces on the bench.
    """
    if not kind.GLUES_ON or last.at.step != operation.step or all(use.kind != "glue" for use in last.uses):
        return False
    table = operation.fields.table()
    glued = meant(table.get("piece") or table.get("pieces"), names)
    return any(piece.name in glued and piece.name in piece.sources for piece in last.made)
