"""A price list as rows of cells with places, from TOML or CSV; what the cells mean is for others."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planbook.model import Node
from planbook.reader import kinds
from planbook.reader.toml_text import BROKEN
from planbook.reader.toml_tree import Frame, read_tree
from planbook.text import Finding, Place, Source
from planbook.units import near

KEYS = ("name", "thickness", "price", "per")
NEEDED = ("name", "price", "per")
_PRICE_IN = re.compile(r"price(?: in (?P<currency>.+))?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Cell:
    """A text and where it stands."""

    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Table:
    """The currency if it was written, and the rows by key; `comma` if prices may have a decimal comma."""

    currency: Cell | None
    rows: tuple[tuple[Place, Mapping[str, Cell]], ...]
    findings: tuple[Finding, ...]
    comma: bool = False


def toml_table(source: Source) -> Table:
    """The rows of `[[item]]` tables, and `currency` above them."""
    tree = read_tree(source.text, Frame(source), Place(source.file))
    if tree.root is None:
        return Table(None, (), tree.findings)
    found = list(tree.findings)
    top = tree.root.table()
    found += _strangers(top, ("currency", "item"))
    currency = top.get("currency")
    rows = []
    items = top.get("item")
    if items is not None and not isinstance(items.value, tuple):
        found.append(kinds.WRONG_TYPE.at(items.place, "each price stands under `[[item]]` of its own"))
    for item in items.value if items is not None and isinstance(items.value, tuple) else ():
        if not item.table():
            found.append(kinds.WRONG_TYPE.at(item.place, "each price stands under `[[item]]` of its own"))
            continue
        found += _strangers(item.table(), KEYS)
        cells = {key: cell for key in KEYS if (cell := _cell(item.table().get(key), found)) is not None}
        rows.append((item.place, cells))
        found += _missing(item.table(), item.place)
    return Table(_cell(currency, found), tuple(rows), tuple(found))


def csv_table(source: Source) -> Table:
    """The lines under a head such as `name,thickness,price in EUR,per`; the separator may be a semicolon."""
    lines = [(number, line) for number, line in enumerate(source.lines, 1) if line.strip() and line[0] != "#"]
    if not lines:
        return Table(None, (), ())
    head_at, head = lines[0]
    separator = ";" if head.count(";") > head.count(",") else ","
    columns = [
        Cell(text.strip(), Place(source.file, head_at, at, max(1, size))) for text, at, size in _split(head, separator)
    ]
    keys, currency, found = _heads(columns, Place(source.file, head_at))
    rows = []
    for number, line in lines[1:]:
        parts = _split(line, separator)
        if len(parts) > len(keys):
            _, at, size = parts[len(keys)]
            place = Place(source.file, number, at, max(1, size))
            found.append(kinds.WRONG_TYPE.at(place, f"line {number} has more cells than the head has columns"))
            continue
        cells = {
            key: Cell(text.strip(), Place(source.file, number, at, max(1, size)))
            for key, (text, at, size) in zip(keys, parts, strict=False)
            if key and text.strip()
        }
        rows.append((Place(source.file, number), cells))
        found += _missing(cells, Place(source.file, number)) if set(NEEDED) <= set(keys) else []
    return Table(currency, tuple(rows), tuple(found), separator == ";")


def _heads(columns: list[Cell], place: Place) -> tuple[list[str], Cell | None, list[Finding]]:
    """The keys of the columns, the currency named in one of them, and what is wrong with them."""
    keys: list[str] = []
    currency: Cell | None = None
    found: list[Finding] = []
    for cell in columns:
        price = _PRICE_IN.fullmatch(cell.text)
        key = "price" if price else cell.text.lower()
        if price and price["currency"]:
            currency = Cell(price["currency"].strip(), cell.place)
        if key not in KEYS:
            guess = near(key, KEYS)
            hint = f"did you mean `{guess[0]}`?" if guess else f"columns are {', '.join(KEYS)}"
            found.append(kinds.UNKNOWN_KEY.at(cell.place, f"a price list has no column `{cell.text}`", hint=hint))
            key = ""
        elif key in keys:
            found.append(kinds.WRITTEN_TWICE.at(cell.place, f"column `{key}` is written a second time", label="again"))
            key = ""
        keys.append(key)
    absent = [key for key in NEEDED if key not in keys]
    found += [kinds.MISSING_KEY.at(place, f"the price list has no column `{key}`") for key in absent]
    return keys, currency, found


def _split(line: str, separator: str) -> list[tuple[str, int, int]]:
    """The cells of a CSV line (RFC 4180), each with its column from 1 and its written length."""
    found, at = [], 0
    while True:
        end = _end(line, at, separator)
        raw = line[at:end]
        text = raw.strip()
        whole = len(text) > 1 and text[0] == text[-1] == '"'
        lead = len(raw) - len(raw.lstrip())
        found.append((text[1:-1].replace('""', '"') if whole else text, at + lead + 1, len(text)))
        if end >= len(line):
            return found
        at = end + 1


def _end(line: str, at: int, separator: str) -> int:
    quoted = False
    for index in range(at, len(line)):
        if line[index] == '"':
            quoted = not quoted
        elif line[index] == separator and not quoted:
            return index
    return len(line)


def _cell(node: Node | None, found: list[Finding]) -> Cell | None:
    if node is None or node.value == BROKEN:
        # What could not be read has been told.
        return None
    if isinstance(node.value, str):
        return Cell(node.value, node.place)
    if isinstance(node.value, int | float) and not isinstance(node.value, bool):
        return Cell(repr(node.value), node.place)
    found.append(kinds.WRONG_TYPE.at(node.place, "a price list holds texts and numbers only"))
    return None


def _strangers(table: Mapping[str, Node], keys: tuple[str, ...]) -> Iterator[Finding]:
    for key, node in table.items():
        if key not in keys:
            guess = near(key, keys)
            hint = f"did you mean `{guess[0]}`?" if guess else f"keys here are {', '.join(keys)}"
            yield kinds.UNKNOWN_KEY.at(node.named_at, f"a price list has no key `{key}` here", hint=hint)


def _missing(row: Mapping[str, object], place: Place) -> list[Finding]:
    absent = [key for key in NEEDED if key not in row]
    if not absent:
        return []
    names = " and ".join(f"`{key}`" for key in absent)
    return [kinds.MISSING_KEY.at(place, f"this price has no {names}")]
