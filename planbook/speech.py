"""In which language words are printed: catalogues of translations, and the one spoken just now; English by itself."""

import gettext
import re
import struct
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from io import BytesIO
from pathlib import Path

LANGUAGES = ("en", "de", "es", "fr")
"""The languages of the catalogues that come with planbook; English is what the program is written in."""
_LINE = re.compile(r'(?:(msgid|msgid_plural|msgstr|msgstr\[(\d)\])\s+)?"((?:[^"\\]|\\.)*)"')
_ESCAPES = {"\\n": "\n", '\\"': '"', "\\\\": "\\", "\\t": "\t"}
_DECIMAL = re.compile(r"(?<![\w.])(\d+)\.(\d+)(?![\w]*\.\d)")
_language: ContextVar[str] = ContextVar("language", default="en")


class NotACatalogue(ValueError):  # noqa: N818 - it is told with its line
    """A line of a catalogue that cannot be read: its number from 1."""

    def __init__(self, line: int) -> None:
        super().__init__(f"line {line} of the catalogue cannot be read")
        self.line = line


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Everything printed inside is said in this language, as far as its catalogue goes."""
    token = _language.set(language)
    try:
        yield
    finally:
        _language.reset(token)


def language() -> str:
    """The language spoken just now."""
    return _language.get()


def say(text: str, /, **fields: object) -> str:
    """The text in the language spoken, with its braces filled in; English where the catalogue has nothing."""
    said = catalogue(language()).gettext(text) if text else ""
    return said.format(**fields) if fields else said


def say_many(one: str, many: str, count: int, /, **fields: object) -> str:
    """The form that belongs to a number, which stands in the text as `{count}`."""
    return catalogue(language()).ngettext(one, many, count).format(count=count, **fields)


def comma(text: str) -> str:
    """Decimals as the language writes them: "1.5 mm" is "1,5 mm" in German, French and Spanish."""
    return text if language() == "en" else _DECIMAL.sub(r"\1,\2", text)


@cache
def catalogue(language: str) -> gettext.NullTranslations:
    """The translations of a language; none for English and for a language without a catalogue."""
    path = Path(__file__).parent / "catalogues" / f"{language}.po"
    if language not in LANGUAGES or not path.is_file():
        return gettext.NullTranslations()
    return gettext.GNUTranslations(BytesIO(compiled(read_po(path.read_text(encoding="utf-8")))))


def read_po(text: str) -> Mapping[tuple[str, str], tuple[str, ...]]:
    """The entries of a `.po` file: (singular, plural or empty) to its forms. Raises NotACatalogue.

    Only what planbook's own catalogues hold is read: no contexts; comments and the entries in them are left out.
    """
    found: dict[tuple[str, str], tuple[str, ...]] = {}
    entry: dict[str, str] = {}
    key = ""
    for number, line in enumerate([*text.splitlines(), ""], start=1):
        line = line.strip()
        if line.startswith("#"):
            continue
        if not line or (line.startswith("msgid ") and "msgstr" in " ".join(entry)):
            found |= _entry(entry)
            entry, key = {}, ""
            if not line:
                continue
        match = _LINE.fullmatch(line)
        key = (match[1] or key) if match else ""
        if match is None or not key:
            raise NotACatalogue(number)
        entry[key] = entry.get(key, "") + re.sub(r'\\[n"\\t]', lambda m: _ESCAPES[m[0]], match[3])
    return found


def _entry(entry: Mapping[str, str]) -> dict[tuple[str, str], tuple[str, ...]]:
    forms = tuple(entry[key] for key in sorted(entry) if key.startswith("msgstr"))
    return {(entry.get("msgid", ""), entry.get("msgid_plural", "")): forms} if any(forms) else {}


def compiled(entries: Mapping[tuple[str, str], tuple[str, ...]]) -> bytes:
    """Entries in the binary form that `gettext` of the standard library reads (GNU gettext manual, "MO Files")."""
    pairs = sorted(
        ("\0".join(filter(None, (one, many))).encode(), "\0".join(forms).encode())
        for (one, many), forms in entries.items()
    )
    at = 28 + 16 * len(pairs)
    tables: list[list[tuple[int, int]]] = [[], []]
    data = b""
    for column in (0, 1):
        for pair in pairs:
            tables[column].append((len(pair[column]), at + len(data)))
            data += pair[column] + b"\0"
    head = struct.pack("<7I", 0x950412DE, 0, len(pairs), 28, 28 + 8 * len(pairs), 0, at)
    return head + b"".join(struct.pack("<2I", *row) for table in tables for row in table) + data
