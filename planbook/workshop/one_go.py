"""What is glued in one go: operations of a step whose clamps hold while the next is glued, and come off together."""

from collections.abc import Collection

from planbook.model import Operation
from planbook.workshop.patterns import meant
from planbook.workshop.shop import Work
from planbook.workshop.timeline import Event


def goes_on(kind: type[Work], operation: Operation, last: Event, names: Collection[str]) -> bool:
    """Whether an operation may be done while the clamps of the one before it, in the same step, still hold.

    It glues too: something to the piece that was glued, or other pieces. `names` are those of all pieces on the bench.
    """
    table = operation.fields.table()
    if "glue" not in table or last.at.step != operation.step or all(use.kind != "glue" for use in last.uses):
        return False
    glued = meant(table.get("piece") or table.get("pieces"), names)
    held = [piece for piece in last.made if piece.name in glued]
    return not held or (kind.GLUES_ON and any(piece.name in piece.sources for piece in held))
