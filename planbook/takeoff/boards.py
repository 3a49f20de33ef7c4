"""The lumber to buy: boards by size, and each wood's total; not how they are cut from what a dealer has."""

from collections.abc import Iterable
from fractions import Fraction

from planbook.handbook import BUILT_IN, Handbook, board_feet, board_feet_nominal
from planbook.model import Stock
from planbook.takeoff.measure import along_grain, lengths
from planbook.takeoff.records import BoardRow, Dimensions, WoodTotal
from planbook.workshop import Event, Timeline

MM2_PER_M2 = 10**6
MM3_PER_M3 = 10**9

_Key = tuple[str, Dimensions, Dimensions | None]


def boards(timeline: Timeline) -> tuple[BoardRow, ...]:
    """One row for all boards alike in wood and size, in the order of the design.

    A board whose size has no value is left out: the design then has a finding.
    """
    alike: dict[_Key, list[Stock]] = {}
    for stock in timeline.design.stock.values():
        size = lengths(stock.size, timeline)
        rough = lengths(stock.rough, timeline) if stock.rough else None
        if size is not None and min(size) > 0:
            key = (
                stock.wood,
                along_grain(size, stock.grain),
                along_grain(rough, stock.grain) if rough else None,
            )
            alike.setdefault(key, []).append(stock)
    return tuple(_row(i, key, rows, timeline) for i, (key, rows) in enumerate(alike.items(), start=1))


def _row(number: int, key: _Key, alike: list[Stock], timeline: Timeline) -> BoardRow:
    name, size, rough = key
    names = tuple(stock.name for stock in alike)
    buy, count = rough or size, len(alike)
    sheet = is_sheet(name, timeline.design.handbook)
    return BoardRow(
        number=number,
        names=names,
        wood=name,
        size=size,
        rough=rough,
        grain=alike[0].grain,
        board_feet=None if sheet else count * board_feet(buy.thickness, buy.width, buy.length),
        board_feet_nominal=None if sheet else count * board_feet_nominal(buy.thickness, buy.width, buy.length),
        square_metres=count * buy.length * buy.width / MM2_PER_M2,
        cubic_metres=count * buy.volume / MM3_PER_M3,
        steps=steps_to_bench(names, timeline),
    )


def totals(rows: Iterable[BoardRow], book: Handbook = BUILT_IN) -> tuple[WoodTotal, ...]:
    """The boards of each wood together, in the order in which the woods first appear."""
    by_wood: dict[str, list[BoardRow]] = {}
    for row in rows:
        by_wood.setdefault(row.wood, []).append(row)
    return tuple(_total(name, alike, book) for name, alike in by_wood.items())


def _total(name: str, rows: list[BoardRow], book: Handbook) -> WoodTotal:
    volume = sum((row.cubic_metres for row in rows), Fraction(0))
    weight = density_of(name, book)
    return WoodTotal(
        wood=name,
        boards=sum(row.count for row in rows),
        board_feet=_sum(row.board_feet for row in rows),
        board_feet_nominal=_sum(row.board_feet_nominal for row in rows),
        square_metres=sum((row.square_metres for row in rows), Fraction(0)),
        cubic_metres=volume,
        kilograms=None if weight is None else float(volume) * weight,
    )


def is_sheet(name: str, book: Handbook = BUILT_IN) -> bool:
    """Whether a wood is a sheet material, which is sold by area."""
    row = book.wood(name)
    return row is not None and row.group == "sheet"


def of_sheets(event: Event) -> bool:
    """Whether all that an operation makes is sheet material alone: it comes flat, square and as thick as it is."""
    return all(is_sheet(member.wood) for piece in event.made for member in piece.members)


def density_of(name: str, book: Handbook = BUILT_IN) -> float | None:
    """The density of a wood at 12 % moisture in kg/m3, or None where the handbook does not know it."""
    row = book.wood(name)
    if row is None or (row.gravity_12 is None and row.gravity_green is None):
        return None
    return row.density_12


def _sum(values: Iterable[Fraction | None]) -> Fraction | None:
    total = Fraction(0)
    for value in values:
        if value is None:
            return None
        total += value
    return total


def steps_to_bench(names: tuple[str, ...], timeline: Timeline) -> tuple[int, ...]:
    """The steps in which the boards come to the bench."""
    found: dict[str, int] = {}
    for event in timeline.events:
        for piece in (*event.made, *event.taken):
            if piece.name in names:
                found.setdefault(piece.name, event.at.step)
    return tuple(sorted(set(found.values())))
