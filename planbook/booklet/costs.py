"""What a build costs as it is printed; only for a maker who gave a price list."""

from collections.abc import Iterator

from planbook.booklet.basics import Fact
from planbook.booklet.bought_rows import CostLine, CostPage
from planbook.booklet.rows import step_links
from planbook.speech import say
from planbook.takeoff.cost import Cost, CostRow, cost_cells


def cost_page(cost: Cost | None) -> CostPage | None:
    """The page of costs; None where no price list was given."""
    if cost is None:
        return None
    return CostPage(tuple(_line(row, cost) for row in cost.rows), tuple(_sums(cost)), cost.missing)


def _line(row: CostRow, cost: Cost) -> CostLine:
    what, times, price, paid = cost_cells(row, cost)
    return CostLine(what[:1].upper() + what[1:], times, price, paid, step_links(row.steps))


def _sums(cost: Cost) -> Iterator[Fact]:
    least = say("at least") + " " if cost.at_least else ""
    if cost.work is not None:
        yield Fact(say("Materials"), least + cost.money(cost.materials))
        yield Fact(say("Work"), cost.money(cost.work))
    yield Fact(say("Total"), least + cost.money(cost.total))
