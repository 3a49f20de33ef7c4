"""A plain shopping list from the lists of a build: its boards as they are listed, its supplies by measure."""

from collections.abc import Iterator
from typing import cast, get_args

from planbook.takeoff.records import BoardRow, Lists, SupplyRow
from planbook.takeoff.shopping import Bought, BoughtKind, SoldUnit

_UNITS: dict[str, tuple[float, SoldUnit]] = {
    "ml": (0.001, "l"),
    "l": (1, "l"),
    "g": (0.001, "kg"),
    "m2": (1, "m2"),
    "m": (1, "m"),
    "pieces": (1, "pieces"),
}


def plain_shopping(lists: Lists) -> tuple[Bought, ...]:
    """Every board of the lumber list and every supply, not yet in the packages in which they are sold."""
    return (*(_board(row) for row in lists.boards), *_supplies(lists))


def _board(row: BoardRow) -> Bought:
    size = (float(row.to_buy.thickness), float(row.to_buy.width), float(row.to_buy.length))
    if row.board_feet is None:
        return Bought("sheet", row.wood, row.name, row.count, float(row.square_metres), "m2", size, row.steps)
    return Bought("board", row.wood, row.name, row.count, float(row.cubic_metres), "m3", size, row.steps)


def _supplies(lists: Lists) -> Iterator[Bought]:
    for row in lists.supplies:
        yield _supply(row)


def _supply(row: SupplyRow) -> Bought:
    kind = cast(BoughtKind, row.kind if row.kind in get_args(BoughtKind) else "other")
    name = row.product or row.name
    if row.metric is None:
        return Bought(kind, name, "as needed", 1, 1.0, "sheets" if kind == "abrasive" else "pieces", None, row.steps)
    factor, unit = _UNITS[row.metric.unit]
    amount = round(float(row.metric.value) * factor, 6)
    count = int(amount) if unit == "pieces" else 1
    return Bought(kind, name, row.name, count, amount, unit, None, row.steps)
