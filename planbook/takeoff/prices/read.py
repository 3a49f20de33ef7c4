"""Reads a price list: the meaning of its cells, and a finding for each that has none."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from planbook.handbook import abrasive, finish, glue, lining, lumber_size, names, wood
from planbook.handbook.records import Abrasive, Finish, Glue, Lining, Wood
from planbook.reader.files import load
from planbook.takeoff.prices import kinds
from planbook.takeoff.prices.cells import Cell, Table, csv_table, toml_table
from planbook.takeoff.prices.records import PAPER, WORK, Price, Prices
from planbook.takeoff.prices.sale import Sale, near_units, read_sale
from planbook.text import Aside, Finding, Place, Sources, in_order
from planbook.units import UnitProblem, near, read_length

_SIGNS = {"€": ("EUR",), "£": ("GBP",), "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD"), "¥": ("JPY", "CNY")}
_MONEY = re.compile(
    r"(?P<before>[A-Za-z]{3}|[€£$¥])?\s*(?P<number>[-−]?\d+(?:\.\d+)?)\s*(?P<after>[A-Za-z]{3}|[€£$¥])?"
)
_LUMBER = ("board foot", "m3", "m2", "m", "board", "piece")
_SOLD: Mapping[str, tuple[str, ...]] = {
    "wood": _LUMBER,
    "sheet material": ("sheet", "m2", "board", "piece"),
    "glue": ("l", "kg", "m2", "m", "piece"),
    "finish": ("l", "kg", "piece"),
    "abrasive": ("sheet", "piece", "m2", "m"),
    "lining": ("m2", "l", "kg", "piece", "sheet"),
    WORK: ("hour",),
    PAPER: ("page",),
}
"""In which measures things of a kind are sold."""


@dataclass(frozen=True, eq=False)
class PriceReading:
    """The prices, or None where a finding stops them; the findings, and the text that they speak of."""

    prices: Prices | None
    findings: tuple[Finding, ...]
    sources: Sources = field(default_factory=dict)


def read_prices(path: Path, known: Iterable[str] = ()) -> tuple[Prices | None, tuple[Finding, ...]]:
    """A price list (`.csv`, else TOML) and its findings; None where one of them is an error.

    `known` are names of supplies of designs, which may have prices though the handbook does not know them.
    """
    reading = read_price_list(path, known)
    return reading.prices, reading.findings


def read_price_list(path: Path, known: Iterable[str] = ()) -> PriceReading:
    """Like `read_prices`, with the text for excerpts."""
    loaded = load(path.parent, path.name)
    if loaded.source is None or not loaded.usable:
        sources = {loaded.source.file: loaded.source} if loaded.source else {}
        return PriceReading(None, loaded.findings, sources)
    table = csv_table(loaded.source) if path.suffix.lower() == ".csv" else toml_table(loaded.source)
    prices, found = _read(table, Place(loaded.source.file), tuple(known))
    findings = in_order((*table.findings, *found))
    stops = any(finding.stops for finding in findings)
    return PriceReading(None if stops else prices, findings, {loaded.source.file: loaded.source})


def canonical(name: str) -> tuple[str, str]:
    """The handbook's name of a thing and its kind; the name as it is and no kind where it has none."""
    plain = " ".join(name.split())
    if plain.casefold() in (WORK, PAPER):
        return plain.casefold(), plain.casefold()
    found = wood(plain)
    if found is not None:
        return found.name, "sheet material" if found.group == "sheet" else "wood"
    tables = (
        ("glue", glue(plain)),
        ("finish", finish(plain)),
        ("abrasive", abrasive(plain)),
        ("lining", lining(plain)),
    )
    return next(((row.name, kind) for kind, row in tables if row is not None), (plain, ""))


def _read(table: Table, whole: Place, known: tuple[str, ...]) -> tuple[Prices, list[Finding]]:
    currency, found = _currency(table.currency, whole)
    rows: list[Price] = []
    for place, cells in table.rows:
        price, wrong = _row(place, cells, currency, table.comma, known)
        found += wrong
        if price is not None:
            twice = next((row for row in rows if _alike(row, price)), None)
            if twice is None:
                rows.append(price)
            else:
                found.append(_twice(price, twice))
    return Prices(currency, tuple(rows)), found


def _currency(cell: Cell | None, whole: Place) -> tuple[str, list[Finding]]:
    if cell is None:
        hint = 'write `currency = "EUR"` above the prices, or `price in EUR` at the head of the column'
        return "", [kinds.CURRENCY.at(whole, "the price list does not say its currency", hint=hint)]
    if not re.fullmatch(r"[A-Z]{3}", cell.text.strip()):
        headline = f"`{cell.text}` is not a currency in three letters, such as EUR, GBP or USD"
        return "", [kinds.CURRENCY.at(cell.place, headline)]
    return cell.text.strip(), []


def _row(
    place: Place, cells: Mapping[str, Cell], currency: str, comma: bool, known: tuple[str, ...]
) -> tuple[Price | None, list[Finding]]:
    """One price, if every cell of it can be read; else what is wrong."""
    found: list[Finding] = []
    name = cells.get("name")
    proper, kind = canonical(name.text) if name else ("", "")
    money = _money(cells["price"], currency, comma, found) if "price" in cells else None
    sale = _sale(cells["per"], kind, proper, found) if "per" in cells else None
    thickness = _thickness(cells["thickness"], found) if "thickness" in cells else None
    if name and not kind and proper.casefold() not in {each.casefold() for each in known}:
        found.append(_for_nothing(name, known))
    if name is None or money is None or sale is None or any(finding.stops for finding in found):
        return None, found
    return Price(proper, name.text, thickness, money, sale, name.place), found


def _money(cell: Cell, currency: str, comma: bool, found: list[Finding]) -> Decimal | None:
    text = cell.text.strip()
    plain = text.replace(",", ".") if comma and re.search(r"\d,\d{1,4}(?!\d)", text) else text
    money = _MONEY.fullmatch(plain) if len(plain) <= 40 else None
    if money is None:
        hint = f"write `{text.replace(',', '.')}`" if re.fullmatch(r"\d+,\d\d?", text) else ""
        found.append(kinds.NOT_A_PRICE.at(cell.place, f"`{text[:40]}` is not a price", hint=hint))
        return None
    sign = money["before"] or money["after"] or ""
    if currency and sign and currency not in _SIGNS.get(sign, (sign.upper(),)):
        headline = f"a price is in {sign.upper()}, but the list is in {currency}"
        found.append(kinds.TWO_CURRENCIES.at(cell.place, headline))
        return None
    value = Decimal(money["number"].replace("−", "-"))
    if value < 0:
        found.append(kinds.NEGATIVE.at(cell.place, f"the price {value} is below zero"))
        return None
    return value


def _sale(cell: Cell, kind: str, name: str, found: list[Finding]) -> Sale | None:
    sale = read_sale(cell.text)
    if sale is None:
        guess = near_units(cell.text)
        hint = f"did you mean `{guess[0]}`?" if guess else "units are board foot, m3, m2, m, l, kg, piece, or 500 ml"
        found.append(
            kinds.UNKNOWN_SALE.at(cell.place, f"`{cell.text}` is not a unit that things are sold by", hint=hint)
        )
        return None
    if kind and sale.measure not in _SOLD[kind]:
        headline = f"`{name}` has a price for a `{cell.text}`, in which {kind} is not sold"
        hint = f"it may be sold by {', '.join(_SOLD[kind])}"
        found.append(kinds.UNFIT_SALE.at(cell.place, headline, hint=hint))
        return None
    return sale


def _thickness(cell: Cell, found: list[Finding]) -> Fraction | None:
    """A thickness in mm: a length, or what a size of the trade such as 4/4 is called."""
    size = lumber_size(cell.text)
    if size is not None and size.kind.endswith("thickness"):
        return size.nominal_mm
    try:
        length = read_length(cell.text)
    except UnitProblem:
        length = Fraction(0)
    if length <= 0:
        found.append(
            kinds.NOT_A_THICKNESS.at(cell.place, f"`{cell.text}` is not a thickness, such as 1 in, 27 mm or 4/4")
        )
        return None
    return length


def _for_nothing(cell: Cell, known: tuple[str, ...]) -> Finding:
    handbook = [name for table in (Wood, Glue, Finish, Abrasive, Lining) for name in names(table)]
    guess = near(cell.text, (*known, *handbook, WORK, PAPER))
    hint = f"did you mean `{guess[0]}`?" if guess else ""
    headline = f"there is a price for `{cell.text}`, which neither the handbook nor a design knows"
    return kinds.FOR_NOTHING.at(cell.place, headline, hint=hint)


def _alike(one: Price, other: Price) -> bool:
    same = one.name.casefold() == other.name.casefold() and one.thickness == other.thickness
    return same and (one.sale.measure, one.sale.size, one.sale.whole) == (
        other.sale.measure,
        other.sale.size,
        other.sale.whole,
    )


def _twice(price: Price, first: Price) -> Finding:
    headline = f"`{price.written}` has a second price per {price.sale.words}"
    return kinds.PRICED_TWICE.at(price.place, headline, label="again", also=(Aside(first.place, "first price"),))
