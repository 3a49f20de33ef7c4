"""The shopping list: what to buy for a build, in the sizes and amounts in which it is sold; not what it costs."""

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, cast, get_args

from planbook.handbook import Package, packages
from planbook.model import Rack
from planbook.takeoff.amounts import ALLOWANCE
from planbook.takeoff.plans import CutPlan, cut_plans
from planbook.takeoff.records import Amount, SupplyRow
from planbook.takeoff.sold import System
from planbook.takeoff.supplies import supplies
from planbook.workshop import Timeline

BoughtKind = Literal["board", "bar", "sheet", "glue", "finish", "abrasive", "lining", "hardware", "other"]
SoldUnit = Literal["m3", "m2", "m", "l", "kg", "pieces", "sheets"]


@dataclass(frozen=True, slots=True)
class Bought:
    """One line of the shopping list.

    `name` is the wood or the product, `what` says in plain words what is sold, `count` how many of it; `amount`
    is all of them together, in `unit`. `size` is thickness, width and length in mm of boards, bars and sheets.
    What is `from_rack` is there already and need not be bought.
    """

    kind: BoughtKind
    name: str
    what: str
    count: int
    amount: float
    unit: SoldUnit
    size: tuple[float, float, float] | None
    steps: tuple[int, ...]
    from_rack: bool = False


def shopping(timeline: Timeline, rack: Rack | None = None, system: System = "mm", make: int = 1) -> tuple[Bought, ...]:
    """What to buy to build a design `make` times, lumber first; with `rack`, what it yields is marked."""
    plans = cut_plans(timeline, rack, system, make).plans
    return bought(plans, supplies(timeline), system, make)


def bought(plans: Iterable[CutPlan], rows: Iterable[SupplyRow], system: System, make: int = 1) -> tuple[Bought, ...]:
    """The shopping list from layouts and supplies that are known already."""
    lumber = [line for plan in plans for line in _lumber(plan)]
    return (*lumber, *(_supply(row, system, make) for row in rows))


def _lumber(plan: CutPlan) -> Iterator[Bought]:
    """The boards of one layout, those alike together."""
    alike = Counter((sheet.stock, sheet.width, sheet.length) for sheet in plan.layout.sheets)
    for (name, width, length), count in alike.items():
        size = (float(plan.thickness), float(width), float(length))
        kind, unit, amount = _measured(plan, width, length)
        yield Bought(kind, plan.wood, name, count, _round(count * amount), unit, size, plan.steps, plan.from_rack)


def _measured(plan: CutPlan, width: Fraction, length: Fraction) -> tuple[BoughtKind, SoldUnit, Fraction]:
    if plan.kind == "bars":
        return "bar", "m", length / 1000
    if plan.group == "sheet":
        return "sheet", "m2", width * length / 10**6
    return "board", "m3", plan.thickness * width * length / 10**9


def _supply(row: SupplyRow, system: System, make: int) -> Bought:
    kind = _kind(row.kind)
    name = row.product or row.name
    if kind == "abrasive":
        return _abrasive(row, name, system, make)
    if row.metric is None:
        return Bought(kind, name, row.note or "as needed", 1, 1.0, "pieces", None, row.steps)
    if row.metric.unit == "pieces":
        count = math.ceil(row.metric.value * make)
        what = row.name if row.name != name else "piece"
        return Bought(kind, name, what, count, float(count), "pieces", None, row.steps)
    need = needed(row, make)
    pack = _package(kind, need, system)
    if pack is None:
        amount, unit = _plain(need)
        return Bought(kind, name, "by measure", 1, _round(amount), unit, None, row.steps)
    count = math.ceil(need.value / pack.amount)
    amount, unit = _plain(Amount(count * pack.amount, need.unit))
    return Bought(kind, name, pack.name, count, _round(amount), unit, None, row.steps)


def needed(row: SupplyRow, make: int = 1) -> Amount:
    """The exact amount of a supply with its allowance, before it is rounded to what is sold."""
    assert row.metric is not None, "asked for the amount of a supply that has none"
    if row.need is not None:
        return Amount(row.need.value * ALLOWANCE * make, row.need.unit)
    unit, value = row.metric.unit, row.metric.value
    return Amount(value * 1000 * make, "ml") if unit == "l" else Amount(value * make, unit)


def _abrasive(row: SupplyRow, name: str, system: System, make: int) -> Bought:
    """Sheets of one grit: as many as the sanded area dulls, at least one."""
    pack = next(p for p in packages().values() if (p.kind, p.system) == ("abrasive", system))
    count = max(1, math.ceil(row.need.value * ALLOWANCE * make)) if row.need else make
    return Bought("abrasive", name, pack.name, count, float(count), "sheets", None, row.steps)


def _package(kind: str, need: Amount, system: System) -> Package | None:
    """The smallest package that is enough, else the largest there is; None where nothing fits the unit."""
    found = [p for p in packages().values() if (p.kind, p.unit, p.system) == (kind, need.unit, system)]
    found.sort(key=lambda pack: pack.amount)
    return next((pack for pack in found if pack.amount >= need.value), found[-1] if found else None)


def _plain(amount: Amount) -> tuple[Fraction, SoldUnit]:
    if amount.unit in ("ml", "g"):
        return amount.value / 1000, "l" if amount.unit == "ml" else "kg"
    return amount.value, cast(SoldUnit, amount.unit if amount.unit in get_args(SoldUnit) else "pieces")


def _kind(kind: str) -> BoughtKind:
    return cast(BoughtKind, kind if kind in get_args(BoughtKind) else "other")


def _round(value: Fraction) -> float:
    return round(float(value), 6)
