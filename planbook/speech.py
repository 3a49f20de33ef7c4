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
_BEFORE_VOWEL = re.compile(r"\bde (?=[aàâeéèêiîoôuœ])")
_APART = "\u00a0"
_TWO_PARTS = re.compile(r" (?=[:;?!»](?:\s|$))|(?<=«) ")
_DECIMAL = re.compile(r"(?<![\w.])(\d+)\.(\d+)(?![\w]*\.\d)")
_PLACEHOLDER = re.compile(r"\{[^{}\n]*\}")
_NUMBERED = re.compile(r"(.+) (\d+)")
_NO_WORDS: Mapping[str, str] = {}
_language: ContextVar[str] = ContextVar("language", default="en")
_words: ContextVar[Mapping[str, str]] = ContextVar("words", default=_NO_WORDS)


class NotACatalogue(ValueError):  # noqa: N818 - it is told with its line
    """A line of a catalogue that cannot be read: its number from 1."""

    def __init__(self, line: int) -> None:
        super().__init__(f"line {line} of the catalogue cannot be read")
        self.line = line


class LostPlaceholder(ValueError):  # noqa: N818 - it is told with the text
    """A translation that has not the placeholders of its text: the text, and what is wrong in words."""

    def __init__(self, text: str, translation: str) -> None:
        lost = sorted({*placeholders(text)} - {*placeholders(translation)})
        added = sorted({*placeholders(translation)} - {*placeholders(text)})
        said = [f"lacks {', '.join(lost)}"] if lost else []
        said += [f"has {', '.join(added)}, which the text has not"] if added else []
        self.what = " and ".join(said) or "has a placeholder more often or less often than the text"
        super().__init__(f"the translation of {text[:80]!r} {self.what}")
        self.text = text


@contextmanager
def speaking(language: str, words: Mapping[str, str] | None = None) -> Iterator[None]:
    """Everything printed inside is said in this language, as far as its catalogue goes.

    `words` are the maker's own: the names and notes of a design, and how the language calls them. Left out, those
    that were given around it hold on.
    """
    token, own = _language.set(language), _words.set(_words.get() if words is None else words)
    try:
        yield
    finally:
        _words.reset(own)
        _language.reset(token)


def language() -> str:
    """The language spoken just now."""
    return _language.get()


def tongue() -> tuple[str, Mapping[str, str]]:
    """The language spoken just now and the maker's words in it: what is printed depends on both."""
    return _language.get(), _words.get()


def called(name: str) -> str:
    """How the maker calls a thing of the design in the language spoken; `leg 2` follows `leg`. Else the name itself."""
    words = _words.get()
    if name in words or not (found := _NUMBERED.fullmatch(name)):
        return words.get(name, name)
    return f"{words.get(found[1], found[1])} {found[2]}"


def told(text: str) -> str:
    """A name or note that may be the maker's or of the handbook: the maker's words go before those of the catalogue."""
    return _words.get()[text] if text in _words.get() else say(text)


def placeholders(text: str) -> tuple[str, ...]:
    """The names in braces in a text, in order; a translation must have the same ones, in any order."""
    return tuple(sorted(_PLACEHOLDER.findall(text)))


def say(text: str, /, **fields: object) -> str:
    """The text in the language spoken, with its braces filled in; English where the catalogue has nothing."""
    said = _unbroken(catalogue(language()).gettext(text)) if text else ""
    return _elided(said.format(**fields)) if fields else said


def labelled(label: str, text: str) -> str:
    """A label and what belongs to it: "Board 1: two cuts"; in French the colon stands apart."""
    return f"{label}{_APART if language() == 'fr' else ''}: {text}"


def _unbroken(text: str) -> str:
    """French sets signs of two parts apart from their word, but never on the next line."""
    return _TWO_PARTS.sub(_APART, text) if language() == "fr" else text


def _elided(text: str) -> str:
    """French drops the e of "de" before a vowel that was filled in: "poussière d’érable"."""
    return _BEFORE_VOWEL.sub("d’", text) if language() == "fr" else text


def say_many(one: str, many: str, count: int, /, **fields: object) -> str:
    """The form that belongs to a number, which stands in the text as `{count}`."""
    return _unbroken(catalogue(language()).ngettext(one, many, count)).format(count=count, **fields)


def comma(text: str) -> str:
    """Decimals as the language writes them: "1.5 mm" is "1,5 mm" in German, French and Spanish."""
    return text if language() == "en" else _DECIMAL.sub(r"\1,\2", text)


@cache
def catalogue(language: str) -> gettext.NullTranslations:
    """The translations of a language; none for English and for a language without a catalogue."""
    path = Path(__file__).parent / "catalogues" / f"{language}.po"
    if language not in LANGUAGES or not path.is_file():
        return gettext.NullTranslations()
    return gettext.GNUTranslations(BytesIO(compiled(checked(read_po(path.read_text(encoding="utf-8"))))))


def checked(entries: Mapping[tuple[str, str], tuple[str, ...]]) -> Mapping[tuple[str, str], tuple[str, ...]]:
    """The entries of a catalogue, every form with the placeholders of its text. Raises LostPlaceholder."""
    for (one, many), forms in entries.items():
        for at, form in enumerate(forms):
            text = many if at and many else one
            if text and placeholders(form) != placeholders(text):
                raise LostPlaceholder(text, form)
    return entries


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
