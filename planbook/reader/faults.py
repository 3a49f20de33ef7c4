"""Turns what the validation of a table refused into findings with places; it validates nothing itself."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from planbook.model import Node
from planbook.reader import kinds
from planbook.reader.fields import ONE_PLACE, SEVERAL_PLACES, named
from planbook.reader.formulas import formula_finding
from planbook.reader.tables import Table
from planbook.reader.toml_places import Path
from planbook.reader.toml_text import BROKEN
from planbook.reader.words import did_you_mean, listed, thing
from planbook.text import Finding, Source
from planbook.units import near


def from_errors(
    errors: Iterable[Any], root: Node, path: Path, table: type[Table], source: Source, units: str
) -> Iterable[Finding]:
    """The findings for the errors of one table, which stands at `path` and has the node `root`."""
    for error in errors:
        if isinstance(error["input"], str) and error["input"] == BROKEN:
            continue
        inner = tuple(part for part in error["loc"] if part not in (ONE_PLACE, SEVERAL_PLACES))
        node = _node_at(root, inner)
        yield _finding(error, node, (*path, *inner), _owner(table, inner), source, units)


def _owner(table: type[Table], inner: Path) -> type[Table]:
    """The table that the last key of a path belongs to: a hole or a part of a path inside another table."""
    from planbook.reader.rack_tables import DefectTable
    from planbook.reader.shape_tables import Leg
    from planbook.reader.tables import HoleTable

    if inner[:1] == ("holes",) and len(inner) > 2:
        return HoleTable
    if inner[:1] == ("defects",) and len(inner) > 2:
        return DefectTable
    return Leg if inner[:1] == ("to",) and len(inner) > 2 and isinstance(inner[1], int) else table


def _node_at(root: Node, inner: Path) -> Node:
    node = root
    for part in inner:
        below: Any = node.value
        inside = isinstance(below, tuple) and isinstance(part, int) and part < len(below)
        if not inside and not (isinstance(below, Mapping) and part in below):
            break
        node = below[part]
    return node


def _finding(error: Any, node: Node, path: Path, table: type[Table], source: Source, units: str) -> Finding:
    match error["type"]:
        case "missing":
            return missing(node, path[:-1], str(path[-1]), table)
        case "extra_forbidden":
            return unknown_key(node, path, table.keys())
        case "literal_error":
            words = tuple(re.findall(r"'([^']*)'", error["ctx"]["expected"]))
            return not_a_choice(node, path, words)
        case "planbook":
            return _refused(error["ctx"], node, path, source, units)
        case _:
            return wrong_type(node, path, "another type", named(error["input"]))


def _refused(facts: Mapping[str, Any], node: Node, path: Path, source: Source, units: str) -> Finding:
    match facts["kind"]:
        case "type":
            return wrong_type(node, path, facts["wanted"], facts["found"])
        case "unit":
            return needs_unit(node, path, facts["what"], units)
        case "formula":
            return formula_finding(facts["problem"], node.place, thing(path), source)
        case "count":
            values = "1 value" if facts["found"] == 1 else f"{facts['found']} values"
            headline = f"{thing(path)} has {values}; it takes {facts['wanted']}"
            return kinds.WRONG_COUNT.at(node.place, headline)
        case "empty":
            return kinds.EMPTY_TEXT.at(node.place, f"{thing(path)} is empty")
        case "version":
            headline = f"version `{facts['value'][:40]}` is not letters, digits, dots and hyphens (30 at most)"
            return kinds.BAD_NAME.at(node.place, headline)
        case "odds":
            return kinds.KEYS_AT_ODDS.at(node.named_at, f"in {thing(path)}, {facts['words']}")
        case "lacks":
            headline = f"{thing(path)} has no `{facts['key']}`: {facts['why']}"
            return kinds.MISSING_KEY.at(node.named_at, headline)
        case "far":
            headline = f"{thing(path)} is {facts['value'][:40]}; it must be more than zero, and {facts['most']} at most"
            return kinds.OUT_OF_RANGE.at(node.place, headline)
        case "span":
            said = str(facts["value"])[:40]
            headline = f"{thing(path)} is {said}; it must lie between {facts['least']} and {facts['most']}"
            return kinds.OUT_OF_RANGE.at(node.place, headline)
        case _:
            return _not_a_count(facts, node, path)


def _not_a_count(facts: Mapping[str, Any], node: Node, path: Path) -> Finding:
    least = facts.get("least", 1)
    if facts["value"] < least:
        return kinds.NOT_ABOVE_ZERO.at(node.place, f"{thing(path)} is {facts['value']}; it must be {least} or more")
    return kinds.OUT_OF_RANGE.at(node.place, f"{thing(path)} is more than {facts['most']}")


def wrong_type(node: Node, path: Path, wanted: str, found: str) -> Finding:
    """A value of another type than its key takes."""
    value = node.value
    hint = ""
    if wanted == "a text" and isinstance(value, int | float) and not isinstance(value, bool):
        hint = f'write "{value}"'
    return kinds.WRONG_TYPE.at(node.place, f"{thing(path)} must be {wanted}, not {found}", hint=hint)


def needs_unit(node: Node, path: Path, what: str, units: str) -> Finding:
    """A bare number where a length or an angle is wanted."""
    value: Any = node.value
    unit = "deg" if what == "angle" else units
    whole = value == value and abs(value) != float("inf") and "e" not in str(value)
    hint = f'write "{value} {unit}"' if whole else ""
    said = value if whole and len(str(value)) <= 20 else "a bare number"
    headline = f"{thing(path)} is {said}, without a unit"
    return kinds.NEEDS_UNIT.at(node.place, headline, label="which unit?", hint=hint)


def missing(node: Node, path: Path, key: str, table: type[Table]) -> Finding:
    """A key that must be there and is not."""
    example = table.example(key)
    hint = f"add a line such as `{key} = {example}`" if example else ""
    return kinds.MISSING_KEY.at(node.named_at, f"{thing(path)} has no `{key}`", hint=hint)


def unknown_key(node: Node, path: Path, known: tuple[str, ...]) -> Finding:
    """A key that means nothing in its table."""
    key = str(path[-1])
    notes = (f"the keys of {thing(path[:-1])} are {listed(known, 'and')}",)
    headline = f"{thing(path[:-1])} has a key `{key}` that means nothing there"
    return kinds.UNKNOWN_KEY.at(node.named_at, headline, notes=notes, hint=did_you_mean(near(key, known)))


def not_a_choice(node: Node, path: Path, words: tuple[str, ...]) -> Finding:
    """A value that is none of the words its key takes."""
    if not isinstance(node.value, str):
        return wrong_type(node, path, "a text", named(_bare(node)))
    close = near(node.value, words)
    choices = listed(words)
    headline = f"{thing(path)} is `{node.value[:80]}`; it can be {choices}"
    return kinds.NOT_A_CHOICE.at(node.place, headline, hint=did_you_mean(close))


def _bare(node: Node) -> object:
    return dict(node.value) if isinstance(node.value, Mapping) else node.value
