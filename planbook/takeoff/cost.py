"""What a build costs by a maker's price list; what has no price is said, not guessed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from planbook.speech import comma, labelled
from planbook.takeoff.prices.read import canonical
from planbook.takeoff.prices.records import PAPER, WORK, Price, Prices
from planbook.takeoff.prices.sale import Sale, amount_of, exact
from planbook.takeoff.shopping import Bought

NEAR_MM = Fraction(4, 5)
"""A price for one thickness holds for boards that differ from it by no more than this, mm (25 mm and 1 in)."""
_NO_PRICE = "no price"
_PLURALS = {"board foot": "board feet", "foot": "feet"} | {
    word: f"{word}s"
    for word in ("board", "sheet", "piece", "hour", "page", "quart", "pint", "gallon", "pound", "ounce")
}
Row = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CostRow:
    """One purchase: how many times which price, and what that comes to. `cost` is None where `why` says why.

    `times` counts units of sale. What is `from_rack` costs nothing now and is in no sum.
    """

    kind: str
    name: str
    what: str
    times: Fraction | None
    per: str
    price: Decimal | None
    cost: Decimal | None
    why: str
    steps: tuple[int, ...]
    from_rack: bool = False


@dataclass(frozen=True, slots=True)
class Cost:
    """All of it, in one currency with so many decimals. The total is the sum of the rows as they are printed.

    `materials` leaves out the maker's `work`, which is None without a price for it. `missing` are the things
    without a price: with any, the sums are the least it can come to.
    """

    currency: str
    decimals: int
    rows: tuple[CostRow, ...]
    materials: Decimal
    work: Decimal | None
    total: Decimal
    missing: tuple[str, ...]

    @property
    def at_least(self) -> bool:
        """Whether the total has gaps."""
        return bool(self.missing)

    def money(self, value: Decimal) -> str:
        """A sum as it is printed: "12.50 EUR"."""
        return comma(f"{value:.{self.decimals}f} {self.currency}")

    @property
    def total_words(self) -> str:
        """The total, called "at least" where something has no price."""
        return f"at least {self.money(self.total)}" if self.at_least else self.money(self.total)


@dataclass(frozen=True, slots=True)
class Comparison:
    """Costs side by side: for each purchase its cost in every choice (None where it has none there), and totals."""

    choices: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Decimal | None, ...]], ...]
    costs: tuple[Cost, ...]


def costs(shopping: Sequence[Bought], hours: float | Fraction | None, prices: Prices, pages: int = 0) -> Cost:
    """What a shopping list costs, with `hours` of work and printed `pages` where the list has prices for them."""
    rows = [_row(bought, prices) for bought in shopping]
    rows += _extra(PAPER, Fraction(pages), prices)
    materials = _sum(rows)
    work = list(_extra(WORK, exact(float(hours or 0)), prices))
    spent = _sum(work) if work else None
    missing = tuple(dict.fromkeys(_gap(row) for row in rows if row.cost is None and not row.from_rack))
    total = materials + (spent or Decimal(0))
    return Cost(prices.currency, prices.decimals, (*rows, *work), materials, spent, total, missing)


def compare(found: Mapping[str, Cost]) -> Comparison:
    """Costs of several choices side by side; purchases of one name and kind are one row.

    Raises ValueError where they are not in one currency.
    """
    if len({cost.currency for cost in found.values()}) > 1:
        raise ValueError("costs in different currencies cannot be compared")
    names = dict.fromkeys((row.kind, row.name) for cost in found.values() for row in cost.rows if not row.from_rack)
    rows = tuple((name, tuple(_of(cost, kind, name) for cost in found.values())) for kind, name in names)
    return Comparison(tuple(found), rows, tuple(found.values()))


def cost_table(cost: Cost) -> tuple[Row, ...]:
    """The cost as plain rows, the head first: thing, quantity, price, cost; the sums last."""
    rows = [("What", "How much", "Price", "Cost")]
    rows += [cost_cells(row, cost) for row in cost.rows]
    if cost.work is not None:
        words = "Materials, at least" if cost.at_least else "Materials"
        rows.append((words, "", "", cost.money(cost.materials)))
    rows.append(("Total, at least" if cost.at_least else "Total", "", "", cost.money(cost.total)))
    return tuple(rows)


def cost_cells(row: CostRow, cost: Cost) -> tuple[str, str, str, str]:
    """A purchase in words: what, how much of it, its price, and its cost or why it has none."""
    return (_title(row), _times(row), _price(row, cost), _cost(row, cost))


def comparison_table(comparison: Comparison) -> tuple[Row, ...]:
    """The comparison as plain rows, the head first and the totals last."""
    head = ("What", *comparison.choices)
    body = tuple(
        (name, *(_shown(cost, value) for cost, value in zip(comparison.costs, values, strict=True)))
        for name, values in comparison.rows
    )
    return (head, *body, ("Total", *(cost.total_words for cost in comparison.costs)))


def _row(bought: Bought, prices: Prices) -> CostRow:
    name = bought.name
    if bought.from_rack:
        return CostRow(bought.kind, name, bought.what, None, "", None, None, "from the rack", bought.steps, True)
    known = prices.of(canonical(name)[0])
    fit = [row for row in known if _fits(row, bought)]
    of_thickness = [row for row in fit if row.thickness is not None]
    priced = [(row, times) for row in of_thickness or fit if (times := _how_often(row.sale, bought)) is not None]
    if not priced:
        return CostRow(bought.kind, name, bought.what, None, "", None, None, _why(bought, known, fit), bought.steps)
    row, times = min(priced, key=lambda each: exact_money(each[0].price) * each[1])
    cost = rounded(exact_money(row.price) * times, prices.decimals)
    return CostRow(bought.kind, name, bought.what, times, row.sale.words, row.price, cost, "", bought.steps)


def _fits(row: Price, bought: Bought) -> bool:
    if row.thickness is None:
        return True
    return bought.size is not None and abs(exact(bought.size[0]) - row.thickness) <= NEAR_MM


def _how_often(sale: Sale, bought: Bought) -> Fraction | None:
    amount = amount_of(bought, sale.measure)
    return None if amount is None else sale.times(amount)


def _gap(row: CostRow) -> str:
    return row.name if row.why == _NO_PRICE else labelled(row.name, row.why)


def _why(bought: Bought, known: Sequence[Price], fit: Sequence[Price]) -> str:
    if not known:
        return _NO_PRICE
    if not fit:
        thick = f"{bought.size[0]:g} mm thick" if bought.size else "without a thickness"
        return f"no price for {thick}"
    units = " or ".join(dict.fromkeys(row.sale.words for row in fit))
    return f"its price is per {units}, and how much that is cannot be told"


def _extra(name: str, amount: Fraction, prices: Prices) -> Iterator[CostRow]:
    """What is not bought, where there is a price for it and some of it."""
    for row in prices.of(name)[:1] if amount else ():
        times = row.sale.times(amount)
        cost = rounded(exact_money(row.price) * times, prices.decimals)
        yield CostRow("other", name, "", times, row.sale.words, row.price, cost, "", ())


def exact_money(price: Decimal) -> Fraction:
    """A price as an exact fraction."""
    return Fraction(price)


def rounded(value: Fraction, decimals: int) -> Decimal:
    """A sum of money rounded to its decimals, half up as cash registers do."""
    unit = Decimal(1).scaleb(-decimals)
    scaled = value * 10**decimals
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    return (Decimal(whole) * unit).quantize(unit, ROUND_HALF_UP)


def _sum(rows: Sequence[CostRow]) -> Decimal:
    return sum((row.cost for row in rows if row.cost is not None), Decimal(0))


def _of(cost: Cost, kind: str, name: str) -> Decimal | None:
    """What the purchases of one name cost; None where none of them has a price or there are none."""
    found = [row.cost for row in cost.rows if (row.kind, row.name) == (kind, name) and row.cost is not None]
    return sum(found, Decimal(0)) if found else None


def _title(row: CostRow) -> str:
    return row.name if not row.what or row.what.casefold() == row.name.casefold() else f"{row.name} ({row.what})"


def _times(row: CostRow) -> str:
    if row.times is None:
        return ""
    number = f"{float(row.times):.3f}".rstrip("0").rstrip(".")
    if row.per[:1].isdigit() or row.per.startswith("pack"):
        return f"{number} × {row.per}"
    return f"{number} {row.per if row.times == 1 else _PLURALS.get(row.per, row.per)}"


def _price(row: CostRow, cost: Cost) -> str:
    return "" if row.price is None else cost.money(row.price)


def _cost(row: CostRow, cost: Cost) -> str:
    return row.why if row.cost is None else cost.money(row.cost)


def _shown(cost: Cost, value: Decimal | None) -> str:
    return "–" if value is None else cost.money(value)
