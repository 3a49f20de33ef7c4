"""Rough and finished sizes of boards, side by side; not whether the difference is enough."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from planbook.handbook import wood
from planbook.review.lengths import length_of
from planbook.text import Place
from planbook.workshop import Timeline

Side = Literal["length", "width", "thickness"]


@dataclass(frozen=True, slots=True)
class RoughSide:
    """One side of a board, mm: which it is by the finished size and the grain, and whether it is a sheet's."""

    board: str
    axis: str
    what: Side
    size: float
    rough: float
    sheet: bool
    place: Place


def rough_sides(timeline: Timeline) -> Iterator[RoughSide]:
    """The sides of every board that has a rough size."""
    for board in timeline.design.stock.values():
        if board.rough is None:
            continue
        sizes = [length_of(expr, timeline) for expr in board.size]
        row = wood(board.wood)
        across = sorted(
            size for axis, size in zip("xyz", sizes, strict=True) if size is not None and axis != board.grain
        )
        for axis, size, expr in zip("xyz", sizes, board.rough, strict=True):
            rough = length_of(expr, timeline)
            if size is not None and rough is not None and across:
                what: Side = "length" if axis == board.grain else "thickness" if size == across[0] else "width"
                sheet = row is not None and row.group == "sheet"
                yield RoughSide(board.name, axis, what, size, rough, sheet, expr.place)
