"""Checks the names that a maker gives, and the characters of texts; not what the names refer to."""

from collections.abc import Iterable, Iterator, Mapping
from unicodedata import category, normalize

from planbook.model import Node
from planbook.model.sizes import folded
from planbook.reader import kinds
from planbook.reader.checking import Checked
from planbook.reader.toml_places import Path
from planbook.reader.toml_tree import every_node
from planbook.reader.words import NOUNS, PARTS, thing
from planbook.text import Aside, Finding
from planbook.units import UnitProblem, parse_formula

LONGEST_NAME = 80
_TURNS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_MARKS = "\u061c\u200e\u200f"


def check_names(made: Checked) -> Iterator[Finding]:
    """Every name given in a design file: what it is written with, and whether another one sounds the same."""
    for table in NOUNS:
        entries = made.entries(table)
        yield from _names((table,), entries)
        for name, node in entries.items():
            for part in PARTS if table == "stencils" else ():
                inner = node.table().get(part)
                yield from _names((table, name, part), inner.table() if inner else {})
    for name, node in made.entries("sizes").items():
        if fault_of(name) is None and not _fits_formula(name):
            headline = f"size `{name}` cannot be used in a formula; a name there is letters, digits and blanks"
            yield kinds.SIZE_NOT_IN_FORMULA.at(node.named_at, headline)


def fault_of(name: str) -> str | None:
    """What is wrong with a name, in words that follow "the name"; None if nothing is."""
    if not name.strip():
        return "is empty"
    if len(name) > LONGEST_NAME:
        return f"has {len(name)} characters; {LONGEST_NAME} is the most"
    if any(category(char) == "Cc" for char in name):
        return "has a line end or another control character in it"
    if any(char in _TURNS + _MARKS for char in name):
        return "has an unseen character in it that changes the direction of the text"
    if "{" in name or "}" in name:
        return "has a brace in it"
    if name != " ".join(name.split()):
        return "begins or ends with a blank, or has two in a row"
    if not any(category(char)[0] in "LNPS" for char in name):
        return "has no character that can be seen"
    return None


def check_texts(root: Node, keys: bool) -> Iterator[Finding]:
    """Texts with control characters or such as turn the direction; keys too where nobody else looks."""
    for node in every_node(root):
        if isinstance(node.value, str) and (char := _bad(node.value)):
            headline = f"this text has the unseen character U+{ord(char):04X} in it"
            yield kinds.BAD_TEXT.at(node.place, headline)
        if keys and isinstance(node.value, Mapping):
            for key, item in node.value.items():
                if char := _bad(key):
                    headline = f"this key has the unseen character U+{ord(char):04X} in it"
                    yield kinds.BAD_TEXT.at(item.named_at, headline)


def _bad(text: str) -> str:
    return next((c for c in text if c in _TURNS or (category(c) == "Cc" and c not in "\n\t")), "")


def _names(path: Path, entries: Mapping[str, Node]) -> Iterator[Finding]:
    for name, node in entries.items():
        fault = fault_of(name)
        if fault:
            what = thing((*path, _seen(name))) if name.strip() else f"a name in {_table(path)}"
            yield kinds.BAD_NAME.at(node.named_at, f"{what}: the name {fault}")
    yield from _same_names(path, entries)


def _table(path: Path) -> str:
    return thing(path)


def _seen(name: str) -> str:
    return name if len(name) <= LONGEST_NAME else f"{name[:40]}..."


def _same_names(path: Path, entries: Mapping[str, Node]) -> Iterable[Finding]:
    first: dict[str, str] = {}
    for name, node in entries.items():
        sound = normalize("NFC", " ".join(name.split())).casefold()
        if sound in first:
            other = first[sound]
            headline = f"{thing((*path, name))} and `{other}` differ only in capital letters"
            also = (Aside(entries[other].named_at, "the other one"),)
            yield kinds.SAME_NAME.at(node.named_at, headline, also=also)
        first.setdefault(sound, name)


def _fits_formula(name: str) -> bool:
    try:
        uses = parse_formula(name).names
    except UnitProblem:
        return False
    return len(uses) == 1 and uses[0].name == folded(name) and uses[0].length == len(name)
