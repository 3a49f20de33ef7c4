"""Places of keys and values: every value of any TOML text has one, and it is the right one."""

import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.model import Node
from planbook.reader.toml_places import Path, spots_of
from planbook.reader.toml_tree import Frame, every_node, plain, read_tree
from planbook.text import Place, Source


def tree(text: str) -> tuple[Node, Source]:
    source = Source("design.toml", text)
    read = read_tree(text, Frame(source), Place("design.toml"))
    assert read.findings == ()
    assert read.root is not None
    return read.root, source


def node_at(root: Node, *path: str | int) -> Node:
    node = root
    for part in path:
        below: Any = node.value
        node = below[part]
    return node


def seen(source: Source, place: Place) -> str:
    return source.line(place.line)[place.column - 1 : place.column - 1 + place.length]


TEXT = """\
title = "Curlew 🐦 box"  # a comment
a.b."c d" = {x = 1, "y z" = [ "½ in", 'b' ], n = {}}
"schräg" = 'C:\\plain'
[sizes]
"drawer height" = \"\"\"
3 mm\"\"\"
escaped = "1/4\\" deep"
empty = ""
[stock . "left side".deep]
at = [
  "1 mm",  # first
  "2 mm",
]
[[rows]]
name = "first"
[[rows]]
name = "second"
[rows.inner]
when = 2024-05-01T10:00:00Z
on = true
[a.e]
f = -1.5e3
"""


@pytest.mark.parametrize(
    ("path", "value", "key"),
    [
        (("title",), "Curlew 🐦 box", "title"),
        (("a",), "a", "a"),
        (("a", "b"), "b", "b"),
        (("a", "b", "c d"), '{x = 1, "y z" = [ "½ in", \'b\' ], n = {}}', "c d"),
        (("a", "b", "c d", "x"), "1", "x"),
        (("a", "b", "c d", "y z"), "[ \"½ in\", 'b' ]", "y z"),
        (("a", "b", "c d", "y z", 0), "½ in", None),
        (("a", "b", "c d", "y z", 1), "b", None),
        (("a", "b", "c d", "n"), "{}", "n"),
        (("schräg",), "C:\\plain'"[:-1], "schräg"),
        (("sizes",), "sizes", "sizes"),
        (("sizes", "drawer height"), '"""', "drawer height"),
        (("sizes", "escaped"), '"1/4\\" deep"', "escaped"),
        (("sizes", "empty"), '"', "empty"),
        (("stock", "left side"), "left side", "left side"),
        (("stock", "left side", "deep"), "deep", "deep"),
        (("stock", "left side", "deep", "at"), "[", "at"),
        (("stock", "left side", "deep", "at", 1), "2 mm", None),
        (("rows", 0, "name"), "first", "name"),
        (("rows", 1, "name"), "second", "name"),
        (("rows", 1, "inner", "when"), "2024-05-01T10:00:00Z", "when"),
        (("rows", 1, "inner", "on"), "true", "on"),
        (("a", "e", "f"), "-1.5e3", "f"),
    ],
)
def test_places_of_values_and_keys(path: Path, value: str, key: str | None) -> None:
    root, source = tree(TEXT)
    node = node_at(root, *path)
    if path == ("schräg",):
        assert seen(source, node.place).strip("'") == value
    else:
        assert seen(source, node.place) == value
    assert (seen(source, node.key) if node.key else None) == key


def test_values_are_those_of_the_parser() -> None:
    root, _ = tree(TEXT)
    assert plain(root) == tomllib.loads(TEXT)


def test_every_node_visits_all() -> None:
    root, _ = tree('a = [["x"], { b = "y" }]')
    assert [node.value for node in every_node(root) if isinstance(node.value, str)] == ["x", "y"]


KEYS = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=6)
SCALARS = st.one_of(
    st.booleans(), st.integers(-(10**6), 10**6), st.text(st.characters(exclude_categories=("Cs",)), max_size=8)
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=8,
)


def quoted(text: str) -> str:
    return '"' + "".join(c if c.isalnum() else f"\\U{ord(c):08x}" for c in text) + '"'


def inline(value: Any) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case str():
            return quoted(value)
        case list():
            return f"[{', '.join(map(inline, value))}]"
        case _:
            return "{" + ", ".join(f"{quoted(k)} = {inline(v)}" for k, v in value.items()) + "}"


def document(value: dict[str, Any]) -> str:
    """Tables at the first level as headers, everything below inline."""
    flat = {k: v for k, v in value.items() if not isinstance(v, dict)}
    lines = [f"{quoted(k)} = {inline(v)}" for k, v in flat.items()]
    for name, table in value.items():
        if isinstance(table, dict):
            lines += [f"[{quoted(name)}]", *(f"{quoted(k)} = {inline(v)}" for k, v in table.items())]
    return "\n".join(lines)


def paths(value: Any, path: Path = ()) -> list[Path]:
    below = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(found for key, item in below for found in paths(item, (*path, key)))]


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(KEYS, VALUES, max_size=4))
def test_every_value_of_any_text_has_a_spot(value: dict[str, Any]) -> None:
    text = document(value)
    spots = spots_of(text)
    assert set(spots) == set(paths(value)) - {()}
    lines = text.split("\n")
    for spot in spots.values():
        for run in filter(None, (spot.value, spot.key)):
            assert 0 <= run.column < max(1, len(lines[run.line]))
            assert run.column + run.length <= max(1, len(lines[run.line]))


def test_places_in_a_block_are_those_of_its_file() -> None:
    source = Source("steps.md", "a\n> ```saw\n>   piece = 'blank'\n> ```\n")
    read = read_tree("  piece = 'blank'\n", Frame(source, 2, (2,)), Place("steps.md", 2, 6))
    assert read.root is not None
    node = read.root.table()["piece"]
    assert (node.place.line, seen(source, node.place)) == (3, "blank")
    assert seen(source, node.named_at) == "piece"
