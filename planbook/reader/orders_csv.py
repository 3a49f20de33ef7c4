"""Reads a list of orders in CSV, or says all that is wrong with it; it makes no copies."""

import csv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from unicodedata import category

from planbook.model.orders import Order
from planbook.reader import files
from planbook.reader.orders_kinds import (
    ORDER_COLUMNS,
    ORDER_LACKS,
    ORDER_LINE,
    ORDER_TOO_LONG,
    ORDER_TWICE,
    ORDER_UNSAFE,
)
from planbook.reader.words import did_you_mean, listed
from planbook.text import Aside, Finding, Place, Source, Sources, in_order
from planbook.units import near

NEEDED = ("order", "name")
COLUMNS = (*NEEDED, "licence", "contact")
LONGEST = {"order": 40, "name": 80, "licence": 120, "contact": 200}
_JOINERS = "\u200c\u200d"
"""Unseen, but several scripts cannot be written without them."""
_FORMULA = "=+-@"


@dataclass(frozen=True, slots=True)
class OrderReading:
    """What was read: every order that is whole, findings, texts."""

    orders: tuple[Order, ...]
    findings: tuple[Finding, ...]
    sources: Sources = field(default_factory=dict)


def read_orders(path: Path, licence: str = "") -> OrderReading:
    """Read a list of orders; `licence` stands where a line has none. Whatever the file holds, this raises nothing."""
    loaded = files.load(path.parent, path.name)
    source = loaded.source
    if source is None or not loaded.usable:
        return OrderReading((), loaded.findings, {source.file: source} if source else {})
    findings: list[Finding] = []
    orders = tuple(_orders(source, licence, findings))
    return OrderReading(orders, in_order(findings), {source.file: source})


def fault_of_text(text: str) -> str | None:
    """Why a text may not stand in a copy or a register, in words that follow its name; None if it may."""
    for char in text:
        if (category(char)[0] == "C" and char not in _JOINERS) or category(char) in ("Zl", "Zp"):
            return f"has the unseen character U+{ord(char):04X} in it"
    if text.startswith(tuple(_FORMULA)):
        return f"begins with `{text[0]}`, like a formula of a spreadsheet"
    return None


def _orders(source: Source, licence: str, findings: list[Finding]) -> Iterator[Order]:
    rows = _rows(source, findings)
    head = next(rows, None)
    if head is None:
        if not findings:
            whole = Place(source.file, 1, 1)
            findings.append(ORDER_COLUMNS.at(whole, "the file is empty; its first line names the columns"))
        return
    names = [cell.strip().lower() for cell in head.cells]
    wrong = list(_heading(names, head))
    findings += wrong
    if wrong:
        return
    known: dict[str, Order] = {}
    for row in rows:
        made = _order(dict(zip(names, row.cells, strict=False)), row, names, licence, findings)
        if made is None:
            continue
        first = known.setdefault(made.number.casefold(), made)
        if first is made:
            yield made
        else:
            also = (Aside(first.place, "here first"),)
            findings.append(ORDER_TWICE.at(made.place, f"order `{made.number}` stands here again", also=also))


@dataclass(frozen=True, slots=True)
class _Row:
    source: Source
    line: int
    cells: Sequence[str]

    @property
    def whole(self) -> Place:
        return Place(self.source.file, self.line, 1, max(1, len(self.source.line(self.line))))

    def place(self, number: int) -> Place:
        """Where a cell stands: looked for in the line, one cell after the other."""
        text, at = self.source.line(self.line), 0
        for cell in self.cells[: number + 1]:
            # A doubled quote within quotes is one character of the cell.
            written = next((form for form in (cell, cell.replace('"', '""')) if text.find(form, at) >= 0), "")
            start, length = max(text.find(written, at), at), len(written)
            at = start + length + 1
        shift = len(self.cells[number]) - len(self.cells[number].lstrip()) if length else 0
        return Place(self.source.file, self.line, start + 1 + shift, max(1, len(written.strip())))


def _rows(source: Source, findings: list[Finding]) -> Iterator[_Row]:
    """The lines that hold something, as cells, up to the first that is no CSV."""
    first = source.line(1)
    mark = max((",", ";", "\t"), key=first.count)
    reader = csv.reader(source.text.split("\n"), delimiter=mark, strict=True)
    before = 0
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            row = _Row(source, before + 1, ())
            findings.append(ORDER_LINE.at(row.whole, f"line {row.line} is not CSV: {error}"))
            return
        row, before = _Row(source, before + 1, cells), reader.line_num
        if row.line != before:
            headline = f"a quoted value runs on from line {row.line} to line {before}"
            findings.append(ORDER_LINE.at(row.whole, headline, hint="close the quote on its own line"))
        elif any(cell.strip() for cell in cells):
            yield row


def _heading(names: Sequence[str], head: _Row) -> Iterator[Finding]:
    for number, name in enumerate(names):
        if name not in COLUMNS:
            headline = f"the list has a column `{name[:80]}` that means nothing"
            yield ORDER_COLUMNS.at(head.place(number), headline, hint=did_you_mean(near(name[:80], COLUMNS)))
        elif name in names[:number]:
            yield ORDER_COLUMNS.at(head.place(number), f"the list has a second column `{name}`")
    lacking = [name for name in NEEDED if name not in names]
    if lacking:
        noun = "column" if len(lacking) == 1 else "columns"
        yield ORDER_COLUMNS.at(head.whole, f"the list lacks the {noun} {listed(lacking, 'and')}")


def _order(
    cells: Mapping[str, str], row: _Row, names: Sequence[str], licence: str, findings: list[Finding]
) -> Order | None:
    """One order, or None with what is wrong."""
    if len(row.cells) != len(names):
        headline = f"line {row.line} has {len(row.cells)} values; the first line names {len(names)} columns"
        findings.append(ORDER_LINE.at(row.whole, headline, hint="put quotes around a value with a comma in it"))
        return None
    values = {name: cells.get(name, "").strip() for name in COLUMNS}
    values["licence"] = values["licence"] or licence
    wrong = [found for name in COLUMNS if (found := _fault(name, values[name], row, names)) is not None]
    findings += wrong
    if wrong:
        return None
    places = {name: row.place(names.index(name)) for name in NEEDED}
    return Order(values["order"], values["name"], values["licence"], values["contact"], places["order"], places["name"])


def _fault(name: str, value: str, row: _Row, names: Sequence[str]) -> Finding | None:
    place = row.place(names.index(name)) if name in names else row.whole
    if not value:
        hint = "give it in a column `licence`, or once for all with `--licence`" if name == "licence" else ""
        what = "number" if name == "order" else name
        return None if name == "contact" else ORDER_LACKS.at(place, f"line {row.line} has no {what}", hint=hint)
    if len(value) > LONGEST[name]:
        headline = f"the {name} in line {row.line} has {len(value)} characters; {LONGEST[name]} is the most"
        return ORDER_TOO_LONG.at(place, headline)
    fault = fault_of_text(value)
    return ORDER_UNSAFE.at(place, f"the {name} in line {row.line} {fault}") if fault else None
