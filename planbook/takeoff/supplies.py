"""The supplies that a build uses and how much of each to have, as far as the handbook knows."""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from planbook.handbook import Handbook, Lining, packages
from planbook.model import Supply
from planbook.takeoff.amounts import ALLOWANCE, in_us, rounded_up, to_have
from planbook.takeoff.implied import implied_supplies
from planbook.takeoff.measure import exact
from planbook.takeoff.named import names, steps_naming
from planbook.takeoff.records import Amount, SupplyRow
from planbook.takeoff.sanding import sanded_with
from planbook.takeoff.uses import SANDING, STICKING, Used, steps_of, supplies_used, supply_kind
from planbook.workshop import Timeline

GLUE_G_PER_ML = {
    "pva": Fraction(110, 100),
    "hide": Fraction(115, 100),
    "polyurethane": Fraction(112, 100),
    "epoxy": Fraction(110, 100),
    "cyanoacrylate": Fraction(106, 100),
    "contact": Fraction(86, 100),
}
"""Density of glues that are poured (from memory); the others are weighed."""
ML_PER_LITRE = 1000
REMOVABLE = ("spray", "tape", "paste")
"""Kinds of glue that hold a paper stencil and let it come off again."""
STENCIL = "stencil"
"""What a supply that sticks on the stencils says that it is for."""
COUNTED = ("hardware", "other")
"""Kinds of supply that no operation uses by itself: they are needed because the design lists them."""
NOT_STATED = "The plan gives no amount."
NOT_KNOWN = "How much is needed is not known: the build did not record an area."
"""What stands at the end of a supply's note where its amount cannot be told."""


def supplies(timeline: Timeline) -> tuple[SupplyRow, ...]:
    """The supplies used, in order of first use; then abrasives, things counted, and what is implied."""
    used = supplies_used(timeline)
    rows = [_row(timeline, each) for each in used]
    rows += _listed(timeline, {each.name for each in used})
    rows += _adhesives(rows, timeline.design.handbook)
    rows += _for_stencils(timeline, rows)
    rows += (_counted(name, "other", name, steps, None, 0.0) for name, steps in implied_supplies(timeline))
    return tuple(rows)


def _row(timeline: Timeline, used: Used) -> SupplyRow:
    supply = timeline.design.supplies.get(used.name)
    book = timeline.design.handbook
    kind = supply_kind(used.name, used.kind, supply, book)
    product = (supply.product if supply else "") or used.name
    if kind == "glue":
        return _glue(used, product, supply, book)
    if kind == "finish":
        return _finish(timeline, used, product, supply)
    if kind == "lining":
        return _lining(used, product, supply, book)
    if kind == "abrasive":
        return _abrasive(used.name, product, used.steps, used.amount("m2"), supply)
    return _counted(used.name, kind, product, used.steps, supply, used.amount("pieces"))


def _glue(used: Used, product: str, supply: Supply | None, book: Handbook) -> SupplyRow:
    row, area = book.glue(product), _area(used)
    if row is None or area is None:
        return _unknown(used, "glue", product, supply, area, has_row=row is not None)
    if row.kind == "tape":
        return _made(used, "glue", product, supply, area, area)
    grams = area.value * exact(row.spread_g_m2)
    density = GLUE_G_PER_ML.get(row.kind)
    need = Amount(grams / density, "ml") if density else Amount(grams, "g")
    return _made(used, "glue", product, supply, area, need)


def _finish(timeline: Timeline, used: Used, product: str, supply: Supply | None) -> SupplyRow:
    row, area = timeline.design.handbook.finish(product), _area(used)
    coats = _coats(timeline, used.name)
    if row is None or area is None:
        return _unknown(used, "finish", product, supply, area, has_row=row is not None, coats=coats)
    need = Amount(area.value / exact(row.coverage_m2_per_litre) * ML_PER_LITRE, "ml")
    return _made(used, "finish", product, supply, area, need, coats)


def _lining(used: Used, product: str, supply: Supply | None, book: Handbook) -> SupplyRow:
    row, area = book.lining(product), _area(used)
    if row is None or area is None:
        return _unknown(used, "lining", product, supply, area, has_row=row is not None)
    need = Amount(area.value * exact(row.amount_per_m2), row.unit)
    return _made(used, "lining", product, supply, area, need)


def _area(used: Used) -> Amount | None:
    area = used.amount("m2")
    return Amount(exact(area), "m2") if area > 0 else None


def _coats(timeline: Timeline, name: str) -> int:
    """The most coats that one operation gives of a finish; 1 where none is recorded."""
    events = (event for event in timeline.events if any(use.name == name for use in event.uses))
    counts = (value for event in events for key, value in event.settings if key == "coats")
    return max((count for count in counts if isinstance(count, int)), default=1)


def _made(
    used: Used, kind: str, product: str, supply: Supply | None, work: Amount, need: Amount, coats: int = 0
) -> SupplyRow:
    metric, us = to_have(need)
    note = supply.note if supply else ""
    more = (coats, metric, us, note, supply is None, need)
    return SupplyRow(used.name, kind, product, used.steps, work, in_us(work), *more)


def _unknown(
    used: Used,
    kind: str,
    product: str,
    supply: Supply | None,
    work: Amount | None,
    *,
    has_row: bool,
    coats: int = 0,
) -> SupplyRow:
    """A supply whose amount nobody can tell, and why."""
    reason = NOT_KNOWN if has_row else f"How much is needed is not known: the handbook has no {kind} called {product}."
    note = _ended(supply.note if supply else "", reason)
    us = in_us(work) if work else None
    return SupplyRow(used.name, kind, product, used.steps, work, us, coats, None, None, note, supply is None)


def _listed(timeline: Timeline, seen: set[str]) -> Iterator[SupplyRow]:
    """Abrasives, if anything is sanded, and counted things: the design lists them, no operation does."""
    listed, area = timeline.design.supplies, _sanded(timeline)
    for supply in listed.values():
        product = supply.product or supply.name
        if supply.name in seen:
            continue
        if supply.kind == "abrasive" and (steps := sanded_with(supply, timeline)):
            yield _abrasive(supply.name, product, steps, area, supply)
        elif supply.kind in COUNTED:
            named = steps_naming(timeline, supply.name, listed)
            yield _counted(supply.name, supply.kind, product, named, supply, 0.0)


def _sanded(timeline: Timeline) -> float:
    """The area that is sanded, in m2."""
    events = (event for event in timeline.events if event.operation.kind in SANDING)
    return sum(use.amount for event in events for use in event.uses if use.unit == "m2")


@cache
def _sheet_sands() -> Fraction:
    """Area of bare wood that one sheet of abrasive sands before it is dull, in m2."""
    return next(pack.amount for pack in packages().values() if pack.kind == "abrasive")


def _abrasive(name: str, product: str, steps: tuple[int, ...], area: float, supply: Supply | None) -> SupplyRow:
    """Sheets of one grit, as many as the sanded area dulls; none where no area is known."""
    if area <= 0:
        reason = "How many sheets this takes is not known: the build did not record an area."
        note = _ended(supply.note if supply else "", reason)
        return SupplyRow(name, "abrasive", product, steps, None, None, 0, None, None, note, supply is None)
    work = Amount(exact(area), "m2")
    need = Amount(work.value / _sheet_sands(), "sheets")
    have = rounded_up(Amount(need.value * ALLOWANCE, "sheets"))
    note = supply.note if supply else ""
    return SupplyRow(name, "abrasive", product, steps, work, in_us(work), 0, have, have, note, supply is None, need)


def _counted(
    name: str, kind: str, product: str, steps: tuple[int, ...], supply: Supply | None, used: float
) -> SupplyRow:
    """Things that are counted: as many as the design says, or as were used; no allowance."""
    count = supply.count if supply and supply.count else round(used)
    note = supply.note if supply else ""
    if not count:
        # What else is at hand, such as wax or tape, is told as "as needed"; hardware has to be counted.
        note = _ended(note, NOT_STATED) if kind == "hardware" else note
        return SupplyRow(name, kind, product, steps, None, None, 0, None, None, note, supply is None)
    amount = rounded_up(Amount(Fraction(count), "pieces"))
    return SupplyRow(name, kind, product, steps, amount, amount, 0, amount, amount, note, supply is None)


def _adhesives(rows: list[SupplyRow], book: Handbook) -> Iterator[SupplyRow]:
    """What sticks the linings down, where the handbook says that it takes an adhesive."""
    for row in rows:
        found = book.lining(row.product) if row.kind == "lining" else None
        if found and found.adhesive and row.work:
            yield _adhesive(found, row, book)


def _adhesive(found: Lining, row: SupplyRow, book: Handbook) -> SupplyRow:
    area = float(row.work.value) if row.work else 0.0
    used = Used(found.adhesive, "glue", (("m2", area),), row.steps)
    if book.lining(found.adhesive):
        return _lining(used, found.adhesive, None, book)
    return _glue(used, found.adhesive, None, book)


def _for_stencils(timeline: Timeline, rows: list[SupplyRow]) -> Iterator[SupplyRow]:
    """What holds the paper stencils: as the design says, else something that comes off again (common practice)."""
    steps, book = steps_of(timeline, (STICKING,)), timeline.design.handbook
    said = [each for each in timeline.design.supplies.values() if _removable(each.product or each.name, book)]
    said = [each for each in said if names(f"{each.name}. {each.note}", STENCIL)]
    if not steps or _stuck_with(timeline, rows):
        return
    if not said:
        note = "For the stencils: a glue stick, double-sided tape or a temporary spray adhesive."
        yield SupplyRow("removable adhesive", "glue", "", steps, None, None, 0, None, None, note, implied=True)
    for supply in said:
        if supply.name not in {row.name for row in rows}:
            yield _counted(supply.name, supply.kind, supply.product or supply.name, steps, supply, 0.0)


def _removable(product: str, book: Handbook) -> bool:
    """Whether it is a glue that comes off again."""
    row = book.glue(product)
    return row is not None and row.kind in REMOVABLE


def _stuck_with(timeline: Timeline, rows: list[SupplyRow]) -> bool:
    """Whether the stencils are stuck on with such a glue of the lists already."""
    removable = {row.name for row in rows if _removable(row.product, timeline.design.handbook)}
    return any(use.name in removable for e in timeline.events if e.operation.kind == STICKING for use in e.uses)


def _ended(note: str, sentence: str) -> str:
    """The maker's note as a sentence, and one more."""
    return f"{note.rstrip('.')}. {sentence}" if note else sentence
