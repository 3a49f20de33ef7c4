"""The lengths that the operations of a step work with: fields, tools, boards, and the pieces they handle."""

from collections.abc import Iterator

from planbook.model import Operation, Step
from planbook.review.lengths import length_of, lengths_in
from planbook.review.pointing import texts
from planbook.workshop import Timeline


def settings_of(step: Step, timeline: Timeline) -> Iterator[float]:
    """Every length that a sentence of the step may speak of, in mm."""
    for operation in step.operations:
        yield from lengths_in(operation.fields, timeline)
        yield from _of_named(operation, timeline)
    for event in timeline.of_step(step):
        for _, value in event.settings:
            yield from _floats(value)
        for piece in (*event.taken, *event.made):
            yield from piece.solid.extent


def _of_named(operation: Operation, timeline: Timeline) -> Iterator[float]:
    """Lengths of the tools, boards and stencils that an operation names."""
    design = timeline.design
    for name in set(texts(operation.fields)):
        tool, board, stencil = design.tools.get(name), design.stock.get(name), design.stencils.get(name)
        exprs = [*((tool.kerf, tool.width, tool.diameter, tool.capacity) if tool else ())]
        exprs += [*(board.size if board else ()), *((board.rough or ()) if board else ())]
        exprs += [hole.diameter for hole in stencil.holes] if stencil else []
        for expr in exprs:
            length = length_of(expr, timeline)
            if length is not None:
                yield length


def _floats(value: object) -> Iterator[float]:
    if isinstance(value, tuple):
        for item in value:
            yield from _floats(item)
    elif isinstance(value, float):
        yield value
