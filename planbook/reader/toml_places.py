"""Finds where each key and value of a TOML text stands, by syntax tree; it knows nothing of their meaning."""

import tomllib
from dataclasses import dataclass
from functools import cache

from tree_sitter import Language, Node, Parser
from tree_sitter_toml import language

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """A run of characters of one line; line and column count from 0."""

    line: int
    column: int
    length: int


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a value stands, and its key if it has one. A text's run lies inside its quotation marks."""

    value: Run
    key: Run | None = None


class _Text:
    """The text as bytes, for the syntax tree counts in bytes and people count in characters."""

    def __init__(self, text: str) -> None:
        self.data = text.encode("utf-8")
        self.lines = self.data.split(b"\n")

    def run(self, node: Node, trim: int = 0) -> Run:
        """The run of a node, without `trim` characters at either end; cut at the end of its first line."""
        row, start = node.start_point
        line = self.lines[row]
        end = node.end_point[1] if node.end_point[0] == row else len(line)
        column = len(line[:start].decode("utf-8", "replace")) + trim
        length = len(line[start:end].decode("utf-8", "replace")) - 2 * trim
        return Run(row, column, max(1, length))

    def of(self, node: Node) -> str:
        return self.data[node.start_byte : node.end_byte].decode("utf-8", "replace")


_NESTING = ("array", "inline_table", "dotted_key")


@cache
def _parser() -> Parser:
    return Parser(Language(language()))


def depth_of(text: str, most: int) -> int | None:
    """The line (from 0) where tables, lists or dotted keys are nested more than `most` deep, or None."""
    cursor = _parser().parse(text.encode("utf-8")).walk()
    nested = [False]
    while True:
        node = cursor.node
        nested[-1] = node is not None and node.type in _NESTING
        if node is not None and nested[-1] and sum(nested) > most:
            return node.start_point[0]
        if cursor.goto_first_child():
            nested.append(False)
            continue
        while not cursor.goto_next_sibling():
            if not cursor.goto_parent():
                return None
            nested.pop()


def spots_of(text: str) -> dict[Path, Spot]:
    """The spot of every key and value by its path: names of keys, and numbers (from 0) in lists.

    The text must be valid TOML, and must not be nested deep (see `depth_of`).
    """
    found: dict[Path, Spot] = {}
    source = _Text(text)
    lists: dict[Path, int] = {}
    for node in _parser().parse(source.data).root_node.named_children:
        if node.type == "pair":
            _pair(source, node, (), found)
        elif node.type in ("table", "table_array_element"):
            base = _header(source, node, found, lists)
            for pair in node.named_children[1:]:
                if pair.type == "pair":
                    _pair(source, pair, base, found)
    return found


def _header(source: _Text, node: Node, found: dict[Path, Spot], lists: dict[Path, int]) -> Path:
    """Note the tables that a `[header]` names; within a list of tables the last one is meant."""
    keys = _keys(source, node.named_children[0])
    path: Path = ()
    for number, (name, run) in enumerate(keys, 1):
        path = (*path, name)
        found.setdefault(path, Spot(run, run))
        if number == len(keys) and node.type == "table_array_element":
            lists[path] = lists.get(path, -1) + 1
        if path in lists:
            path = (*path, lists[path])
            found.setdefault(path, Spot(run, run))
    return path


def _pair(source: _Text, node: Node, base: Path, found: dict[Path, Spot]) -> None:
    key, value = (child for child in node.named_children if child.type != "comment")
    keys = _keys(source, key)
    path = base
    for name, run in keys:
        path = (*path, name)
        found.setdefault(path, Spot(run, run))
    _value(source, value, path, keys[-1][1], found)


def _value(source: _Text, node: Node, path: Path, key: Run | None, found: dict[Path, Spot]) -> None:
    found[path] = Spot(_value_run(source, node), key)
    if node.type == "array":
        items = (child for child in node.named_children if child.type != "comment")
        for number, item in enumerate(items):
            _value(source, item, (*path, number), None, found)
    elif node.type == "inline_table":
        for pair in node.named_children:
            if pair.type == "pair":
                _pair(source, pair, path, found)


def _value_run(source: _Text, node: Node) -> Run:
    if node.type != "string":
        return source.run(node)
    text = source.of(node)
    plain = text[:3] not in ('"""', "'''") and "\\" not in text
    return source.run(node, 1 if plain else 0)


def _keys(source: _Text, node: Node) -> list[tuple[str, Run]]:
    if node.type == "dotted_key":
        return [pair for child in node.named_children for pair in _keys(source, child)]
    text = source.of(node)
    if node.type == "quoted_key":
        (name,) = tomllib.loads(f"{text} = 0")
        return [(name, source.run(node, 1))]
    return [(text, source.run(node))]
