"""Lists what a design takes, from what a reader brings along: a rack and a price list."""

from pathlib import Path
from typing import TYPE_CHECKING

from planbook.pipeline.checking import check
from planbook.pipeline.records import Brought, Progress, TakenOff, Units
from planbook.text import in_order

if TYPE_CHECKING:
    from planbook.model import Design
    from planbook.takeoff import Lists


def take_off(
    folder: Path,
    rack: Path | None,
    units: Units | None,
    make: int = 1,
    progress: Progress = lambda _: None,
    *,
    choice: str | None = None,
    prices: Path | None = None,
) -> TakenOff:
    """Check a design and, if nothing stops it, list what it takes to make it, from a rack as far as that goes.

    With a price list, what that costs is listed as well, and without a choice of woods also what each choice costs.
    Raises UnknownChoice.
    """
    checked = check(folder, progress, choice=choice, nominal=True)
    if checked.timeline is None:
        return TakenOff(checked.findings, checked.sources)
    brought = brought_along(checked.timeline.design, rack, prices)
    findings, sources = (*checked.findings, *brought.findings), {**checked.sources, **brought.sources}
    if any(finding.stops for finding in findings):
        return TakenOff(in_order(findings), sources)
    from planbook.takeoff import lists

    progress("listing")
    system = units or checked.timeline.design.card.units
    found = lists(checked.timeline, brought.rack, system, make, prices=brought.prices)
    findings = in_order((*findings, *found.findings))
    if any(finding.stops for finding in findings):
        return TakenOff(findings, sources, None, system)
    progress("comparing")
    by_choice = _by_choice(checked.timeline.design, found, brought, system) if choice is None else ()
    return TakenOff(findings, sources, found, system, by_choice)


def _by_choice(design: "Design", as_written: "Lists", brought: Brought, system: Units) -> tuple[tuple[str, ...], ...]:
    """What the design costs as written and in each of its choices of woods."""
    from planbook.model import with_choice
    from planbook.takeoff import lists
    from planbook.takeoff.cost import compare, comparison_table
    from planbook.workshop.run import build

    if as_written.cost is None or not design.choices:
        return ()
    found = {"as designed": as_written.cost}
    for name in design.choices:
        other = lists(build(with_choice(design, name)), brought.rack, system, as_written.make, prices=brought.prices)
        if other.cost is not None:
            found[name] = other.cost
    return comparison_table(compare(found))


def brought_along(design: "Design", rack: Path | None, prices: Path | None) -> Brought:
    """A rack and a price list as they are read from their files, with what is wrong in them."""
    from planbook.reader.rack import RackReading, read_rack

    stored = read_rack(rack) if rack else RackReading(None, ())
    if prices is None:
        return Brought(stored.rack, None, tuple(stored.findings), stored.sources)
    from planbook.takeoff.prices import read_price_list

    known = [name for supply in design.supplies.values() for name in (supply.name, supply.product) if name]
    reading = read_price_list(prices, known)
    findings = (*stored.findings, *reading.findings)
    return Brought(stored.rack, reading.prices, findings, {**stored.sources, **reading.sources})
