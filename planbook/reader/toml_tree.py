"""Reads a TOML text, or a block of it inside another file, into a tree of values with places and findings."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from planbook.model import Node
from planbook.reader import kinds
from planbook.reader.toml_places import Path, Run, Spot, depth_of, spots_of
from planbook.reader.toml_text import BROKEN, DEEPEST, Fault, parse
from planbook.text import Aside, Finding, Place, Source

_HEADER = re.compile(r"\s*(\[\[?[^\]]*\]?\])")


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a text stands in its file: after how many lines, and how far each of its lines is indented."""

    source: Source
    first: int = 0
    indents: tuple[int, ...] = ()

    def place(self, run: Run) -> Place:
        """The place in the file of a run of the text."""
        indent = self.indents[run.line] if run.line < len(self.indents) else 0
        column = max(1, run.column + indent + 1)
        room = max(1, len(self.source.line(self.first + run.line + 1)) - column + 1)
        return Place(self.source.file, self.first + run.line + 1, column, min(run.length, room))


@dataclass(frozen=True, slots=True)
class Tree:
    """What was read: the table, or None; `lost` where the name of a table in it could not be read."""

    root: Node | None
    findings: tuple[Finding, ...]
    lost: bool = False


def read_tree(text: str, frame: Frame, whole: Place) -> Tree:
    """The tree of a TOML text; `whole` is the place given to the outermost table."""
    deep = depth_of(text, DEEPEST)
    if deep is not None:
        return Tree(None, (_too_deep(frame, deep),), True)
    parsed = parse(text)
    findings = tuple(_finding(fault, frame) for fault in parsed.faults)
    if parsed.data is None:
        return Tree(None, findings, True)
    spots = spots_of(parsed.text) if depth_of(parsed.text, DEEPEST) is None else {}
    findings = tuple(_with_first(finding, spots, frame) for finding in findings)
    return Tree(_node(parsed.data, (), whole, spots, frame), findings, parsed.lost)


def plain(node: Node) -> Any:
    """The value of a node without its places."""
    if isinstance(node.value, Mapping):
        return {key: plain(item) for key, item in node.value.items()}
    if isinstance(node.value, tuple):
        return [plain(item) for item in node.value]
    return node.value


def every_node(node: Node) -> Iterator[Node]:
    """A node and all nodes below it."""
    yield node
    below = node.value if isinstance(node.value, tuple) else tuple(node.table().values())
    for item in below:
        yield from every_node(item)


def _node(value: Any, path: Path, around: Place, spots: Mapping[Path, Spot], frame: Frame) -> Node:
    spot = spots.get(path)
    place = frame.place(spot.value) if spot else around
    key = frame.place(spot.key) if spot and spot.key else None
    if isinstance(value, dict):
        table = {
            name: _node(item, (*path, name), place, spots, frame)
            for name, item in value.items()
            if not name.startswith(BROKEN)
        }
        return Node(table, place, key)
    if isinstance(value, list):
        items = tuple(_node(item, (*path, at), place, spots, frame) for at, item in enumerate(value))
        return Node(items, place, key)
    return Node(value, place, key)


def _finding(fault: Fault, frame: Frame) -> Finding:
    if fault.kind == "deep":
        return _too_deep(frame, fault.line)
    place = frame.place(Run(fault.line, fault.column, 1))
    if fault.kind == "twice":
        place, run = _repeated(frame.source.line(place.line), place)
        return kinds.WRITTEN_TWICE.at(place, f"`{run}` is written a second time", label="again")
    hint = f"write `{fault.mended}`" if fault.mended else ""
    headline = f"line {place.line} is not TOML: {fault.words}"
    also = [Aside(frame.place(Run(*fault.start, 1)), "begins here")] if fault.start else []
    return kinds.TOML_SYNTAX.at(place, headline, also=also, hint=hint)


def _repeated(line: str, place: Place) -> tuple[Place, str]:
    """The key or header on a line that was written before, and where it stands."""
    start = len(line) - len(line.lstrip())
    header = _HEADER.match(line)
    run = header[1] if header else line.split("=")[0].strip()
    return Place(place.file, place.line, start + 1, max(1, len(run))), run


def _too_deep(frame: Frame, line: int) -> Finding:
    place = frame.place(Run(line, 0, 1))
    return kinds.TOO_DEEP.at(place, f"line {place.line} nests tables and lists more than {DEEPEST} deep")


def _with_first(finding: Finding, spots: Mapping[Path, Spot], frame: Frame) -> Finding:
    """For something written twice, the place where it was written first."""
    if finding.code != kinds.WRITTEN_TWICE.code:
        return finding
    line = frame.source.line(finding.place.line)
    said = line[finding.place.column - 1 :][: finding.place.length].strip("[] ").replace('"', "").replace("'", "")
    before = (
        frame.place(spot.key)
        for path, spot in spots.items()
        if spot.key and said in (str(path[-1]), ".".join(map(str, path)))
    )
    first = next((place for place in sorted(before, reverse=True) if place < finding.place), None)
    if first is None:
        return finding
    also = (Aside(first, "written here first"),)
    return kinds.WRITTEN_TWICE.at(finding.place, finding.headline, label=finding.label, also=also)
