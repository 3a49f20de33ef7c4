"""Reads a rack that is kept as a CSV table into the same tree of values as one in TOML; it gives them no meaning."""

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planbook.model import Node
from planbook.reader.rack_kinds import NAME_TWICE, RACK_COLUMNS
from planbook.reader.words import did_you_mean, listed
from planbook.text import Aside, Finding, Place, Source
from planbook.units import near

NEEDED = ("name", "wood", "thickness", "width", "length")
COLUMNS = (*NEEDED, "count", "kind", "planed", "defects")
_LENGTHS = ("thickness", "width", "length")
_HEADING = re.compile(r"(?P<name>[^(\[]*?)\s*(?:[(\[]\s*(?P<unit>mm|cm|m|in|ft)\s*[)\]])?\s*")
_BARE = re.compile(r"\s*\d[\d./ ]*\s*")
_STRETCH = re.compile(r"(?P<start>.+?)\s+to\s+(?P<end>.+)")
_YES, _NO = ("yes", "true", "y", "x", "1"), ("no", "false", "n", "0", "")


@dataclass(frozen=True, slots=True)
class Csv:
    """The rows as a table of tables, and what is wrong with the first line or the names."""

    root: Node
    findings: tuple[Finding, ...]


def read_csv(source: Source) -> Csv:
    """The tree of a rack in CSV: commas, semicolons or tabs; the unit of a column may stand in its heading."""
    whole = Place(source.file, 1, 1)
    mark = max((",", ";", "\t"), key=source.line(1).count)
    reader = csv.reader(source.text.split("\n"), delimiter=mark)
    rows, before = [], 0
    try:
        for cells in reader:
            first, before = before + 1, reader.line_num
            if first < before:
                headline = f"a quoted value runs on from line {first} to line {before}"
                hint = "close the quote on its own line"
                return Csv(Node({}, whole), (RACK_COLUMNS.at(Place(source.file, first), headline, hint=hint),))
            if any(cell.strip() for cell in cells):
                rows.append((before, cells))
    except csv.Error as error:
        place = Place(source.file, max(1, reader.line_num))
        return Csv(Node({}, whole), (RACK_COLUMNS.at(place, f"line {place.line} is not CSV: {error}"),))
    if not rows:
        return Csv(Node({}, whole), (RACK_COLUMNS.at(whole, "the file is empty; its first line names the columns"),))
    columns = [_column(cell) for cell in rows[0][1]]
    findings = list(_heading([name for name, _ in columns], source))
    if findings:
        return Csv(Node({}, whole), tuple(findings))
    boards: dict[str, Node] = {}
    for line, cells in rows[1:]:
        row = _Row(source, line, cells)
        name, node = row.board(columns)
        again = next((known for known in boards if _same(known, name)), None)
        if again is None:
            boards[name] = node
        else:
            also = (Aside(boards[again].named_at, "here first"),)
            headline = f"the rack has a second `{name}`"
            findings.append(NAME_TWICE.at(node.named_at, headline, label="again", also=also))
    return Csv(Node({"rack": Node(boards, whole)}, whole), tuple(findings))


def _column(cell: str) -> tuple[str, str]:
    """The name of a column and its unit, if it has one: `length (mm)`."""
    found = _HEADING.fullmatch(cell)
    name = found["name"] if found else cell
    return name.strip().lower(), (found["unit"] or "") if found else ""


def _heading(names: Sequence[str], source: Source) -> Iterator[Finding]:
    line = source.line(1)
    for name in names:
        place = Place(source.file, 1, max(0, line.lower().find(name)) + 1, max(1, len(name)))
        if name not in COLUMNS:
            headline = f"the rack has a column `{name[:80]}` that means nothing"
            yield RACK_COLUMNS.at(place, headline, hint=did_you_mean(near(name, COLUMNS)))
        elif names.count(name) > 1:
            yield RACK_COLUMNS.at(place, f"the rack has {names.count(name)} columns `{name}`")
    lacking = [name for name in NEEDED if name not in names]
    if lacking:
        noun = "column" if len(lacking) == 1 else "columns"
        yield RACK_COLUMNS.at(
            Place(source.file, 1, 1, max(1, len(line))), f"the rack lacks the {noun} {listed(lacking, 'and')}"
        )


def _same(one: str, other: str) -> bool:
    return " ".join(one.lower().split()) == " ".join(other.lower().split())


@dataclass(slots=True)
class _Row:
    """One line of the table, and how far along it the cells have been found."""

    source: Source
    line: int
    cells: Sequence[str]
    at: int = 0

    def board(self, columns: Sequence[tuple[str, str]]) -> tuple[str, Node]:
        """The name of the board and its values."""
        whole = Place(self.source.file, self.line, 1, max(1, len(self.source.line(self.line))))
        table: dict[str, Node] = {}
        name, key = "", whole
        for (column, unit), cell in zip(columns, self.cells, strict=False):
            place = self._place(cell)
            if column == "name":
                name, key = cell.strip(), place
            elif cell.strip():
                table[column] = self._value(column, cell.strip(), unit, place)
        return name, Node(table, whole, key)

    def _place(self, cell: str) -> Place:
        text = self.source.line(self.line)
        found = text.find(cell.strip(), self.at)
        start = found if found >= 0 else self.at
        self.at = min(len(text), start + len(cell.strip()) + 1)
        return Place(self.source.file, self.line, min(start + 1, len(text) + 1), max(1, len(cell.strip())))

    def _value(self, column: str, cell: str, unit: str, place: Place) -> Node:
        if column in _LENGTHS:
            return Node(f"{cell} {unit}" if unit and _BARE.fullmatch(cell) else cell, place)
        if column == "count" and cell.isdecimal() and len(cell) < 9:
            return Node(int(cell), place)
        if column == "planed" and cell.lower() in (*_YES, *_NO):
            return Node(cell.lower() in _YES, place)
        if column == "defects":
            return Node(tuple(_defect(part.strip(), place) for part in cell.split(";") if part.strip()), place)
        return Node(cell.lower() if column == "kind" else cell, place)


def _defect(text: str, place: Place) -> Node:
    """A stretch written as `300 mm to 380 mm`."""
    found = _STRETCH.fullmatch(text)
    if not found:
        return Node(text, place)
    return Node({"from": Node(found["start"], place), "to": Node(found["end"], place)}, place)
