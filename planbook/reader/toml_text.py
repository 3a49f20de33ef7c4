"""Parses TOML values and collects every independent mistake of the syntax; it knows no keys and no places."""

import re
import tomllib
from dataclasses import dataclass, field
from typing import Any, Literal

BROKEN = "\ue000unreadable\ue000"
"""Stands for a value, or begins the name of a table, that could not be parsed and is reported."""

MOST_FAULTS = 20
LONGEST_MENDED = 100_000
DEEPEST = 32

_WHERE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_PAIR = re.compile(r"\s*([A-Za-z0-9_-]+|\"[^\"\\]*\"|'[^']*')\s*=\s*(.*?)\s*$")
_HEADER = re.compile(r"\s*\[")
_COMMENT = re.compile(r"\s*(#|$)")
_TWICE = (
    "Cannot overwrite",
    "Cannot declare",
    "Cannot mutate",
    "Cannot redefine",
    "Duplicate inline table key",
)
_OPEN_TEXTS = {
    "Unterminated string": '"',
    'Expected "\'"': "'",
    "Expected \"'''\"": "'''",
    'Expected \'"""\'': '"""',
}
_WORDS = {
    "Invalid value": "the value cannot be read",
    "Invalid statement": "this line is neither `key = value` nor `[table]`",
    "Expected '=' after a key in a key/value pair": "`=` is missing after the key",
    "Expected newline or end of document after a statement": "something is left over after the value",
    "Unclosed array": "a comma or the `]` that closes the list is missing",
    "Unclosed inline table": "a comma or the `}` that closes the table is missing on its line",
    "Unterminated string": "the text is not closed with a quotation mark",
    'Expected "\'"': "the text is not closed with a quotation mark",
    'Expected \'"""\'': "the text is not closed with three quotation marks",
    "Expected \"'''\"": "the text is not closed with three quotation marks",
    "Illegal character '\\n'": "the text is not closed with a quotation mark on its line",
    "Unescaped '\\' in a string": "a backslash in a text must be written twice",
    "Invalid initial character for a key part": "a key cannot start so; put the name in quotation marks",
    "Expected ']' at the end of a table declaration": "the table is not closed with `]`",
    "Expected ']]' at the end of an array declaration": "the list of tables is not closed with `]]`",
    "Invalid date or datetime": "the date does not exist",
    "Invalid hex value": "the character code cannot be read",
}


@dataclass(frozen=True, slots=True)
class Fault:
    """A mistake of the syntax in plain words; line and column from 0; the line that would mend it."""

    kind: Literal["syntax", "twice", "deep"]
    words: str
    line: int
    column: int
    mended: str = ""
    start: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Parsed:
    """The values of a TOML text (None if nothing held), the text parsed in the end, the mistakes."""

    data: dict[str, Any] | None
    text: str
    faults: tuple[Fault, ...] = ()
    lost: bool = field(default=False)
    """True where the name of a whole table was lost, so that unknown names mean nothing."""


def parse(text: str) -> Parsed:
    """Parse a text; a line that is wrong by itself is set aside, so that the others are still read."""
    lines = text.split("\n")
    faults: list[Fault] = []
    lost = False
    while True:
        attempt = "\n".join(lines)
        try:
            return Parsed(tomllib.loads(attempt), attempt, tuple(faults), lost)
        except RecursionError:
            return Parsed(None, attempt, (*faults, Fault("deep", "", 0, 0)), lost)
        except ValueError as error:
            fault = _fault(str(error), lines)
        spare = _set_aside(fault, lines, len(faults))
        follows = bool(faults) and spare is None and fault.line == faults[-1].line + 1
        if not follows:
            faults.append(fault)
        if spare is None or len(faults) >= MOST_FAULTS:
            return Parsed(None, attempt, tuple(faults), True)
        lost = lost or spare.startswith("[")
        lines[fault.line] = spare


def _fault(message: str, lines: list[str]) -> Fault:
    where = _WHERE.search(message)
    bare = message[: where.start()] if where else message
    line, column = _end(lines)
    if where and where[1]:
        line, column = int(where[1]) - 1, int(where[2]) - 1
    if bare.startswith(_TWICE):
        return Fault("twice", "this is written twice", line, column)
    words = _WORDS.get(bare, bare[:1].lower() + bare[1:])
    if bare == "Illegal character '\\n'":
        column = max(0, lines[line].rfind('"', 0, column))
    if bare.startswith("Unescaped"):
        column = max(0, column - 2)
    start = _start(lines, line, bare)
    if start and bare in _OPEN_TEXTS:
        return Fault("syntax", words, *start, _mended(lines[start[0]]))
    return Fault("syntax", words, line, column, _mended(lines[line]), start)


def _start(lines: list[str], line: int, message: str) -> tuple[int, int] | None:
    """Where the value begins that was never closed, if that is not plain from where the parser stopped."""
    sign = _OPEN_TEXTS.get(message) or ("[" if message == "Unclosed array" else "")
    if not sign or _long(lines):
        return None
    first = next((k for k in range(line, -1, -1) if _holds("\n".join(lines[:k]))), 0)
    if first == line and message not in _OPEN_TEXTS:
        return None
    return first, max(0, lines[first].find(sign, lines[first].find("=")))


def _long(lines: list[str]) -> bool:
    return sum(map(len, lines)) > LONGEST_MENDED


def _end(lines: list[str]) -> tuple[int, int]:
    """The last character that is more than blank space."""
    for number in range(len(lines) - 1, -1, -1):
        if lines[number].strip():
            return number, len(lines[number].rstrip()) - 1
    return 0, 0


def _set_aside(fault: Fault, lines: list[str], count: int) -> str | None:
    """What may stand in place of the faulty line, or None if the fault reaches over several lines."""
    line = lines[fault.line]
    alone = fault.kind == "twice" or not _holds(line)
    if _long(lines) or not alone or BROKEN in line or not _holds("\n".join(lines[: fault.line])):
        return None
    if _HEADER.match(line):
        return f'["{BROKEN}{count}"]'
    pair = _PAIR.match(line)
    if fault.kind == "twice":
        return ""
    return f'{pair[1]} = "{BROKEN}"' if pair else ""


def _holds(text: str) -> bool:
    try:
        tomllib.loads(text)
    except (ValueError, RecursionError):
        return False
    return True


def _mended(line: str) -> str:
    """The line with its value in quotation marks, or its inch mark written out, if that is right."""
    pair = _PAIR.match(line)
    if pair is None or _holds(line):
        return ""
    key, value = pair[1], re.sub(r"\s+#.*", "", pair[2])
    inch_mark = re.fullmatch(r'"([^"]*[0-9¼½¾⅛⅜⅝⅞])\s*""?', value)
    tries = [f'{key} = "{inch_mark[1]} in"'] if inch_mark else []
    if '"' not in value and re.match(r"[\w.(+-]", value):
        tries.append(f'{key} = "{value}"')
    return next((attempt for attempt in tries if _holds(attempt)), "")
