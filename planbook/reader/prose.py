"""Finds in a run of Markdown the names in braces and the lengths typed out; it does not judge them."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from planbook.model import Mention, Prose, TypedLength
from planbook.reader import kinds
from planbook.text import Finding, Place, Source
from planbook.units import UnitProblem, read_length

_TICKS = re.compile(r"`+")
_HIDDEN = re.compile(r"<!--.*?(?:-->|\Z)|<[A-Za-z/][^<>]*>|\]\([^()\s]*(?:\s[^()]*)?\)", re.DOTALL)
_BRACES = re.compile(r"\{\{|\}\}|\{([^{}\n]*)\}|\{")
_LONGEST = 80

_ONE = "[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]"
_NUMBER = rf"(?:\d+(?:[ \u00a0]+|-)\d+/\d+|\d+[ \u00a0]?{_ONE}|{_ONE}|\d+/\d+|\d+(?:\.\d+)?)"
_PLACE_WORDS = (
    "the a an each every this that these those its their your our my one two three four all both any "
    "place position line order turn total half between front time use case which pairs pair series "
    "succession row rows step steps"
)
_NOT_INCHES = re.compile(rf"[ \u00a0]+(?:{'|'.join(_PLACE_WORDS.split())})\b")
_METRIC = r"(?:mm|cm|millimet(?:re|er)s?|centimet(?:re|er)s?|met(?:re|er)s?|m)(?![\w-])"
_INCHES = r"(?:in(?:ch(?:es)?)?(?![\w-])|[\"″”])"
_FEET = r"(?:feet|foot|ft)(?![\w-])"
_GAP = r"[ \u00a0]*"
_LENGTH = re.compile(
    rf"(?<![\w./-])(?:{_NUMBER}{_GAP}{_FEET}{_GAP}{_NUMBER}{_GAP}{_INCHES}"
    rf"|(?P<number>{_NUMBER})(?:{_GAP}|-)(?P<unit>{_METRIC}|{_INCHES}|{_FEET}))",
    re.IGNORECASE,
)
_MARKS = re.compile(r"(?P<opens>(?:^|(?<=[\s(\[]))\"(?=\S))|\"")


@dataclass(frozen=True)
class Lines:
    """Some whole lines of a file: `first` counts from 1, `talk` are those (from 0) with running text."""

    file: str
    first: int
    text: str
    talk: tuple[tuple[int, int], ...]

    @cached_property
    def _source(self) -> Source:
        return Source(self.file, self.text)

    def place(self, offset: int, length: int) -> Place:
        """The place in the file of some characters of the text."""
        return replace(inner := self._source.at(offset, length), line=inner.line + self.first - 1)


def prose_of(lines: Lines) -> tuple[Prose, tuple[Finding, ...]]:
    """The prose of some lines, with its mentions and typed lengths, and findings about its braces.

    A mention's `offset` is that of the first character after its opening brace.
    """
    shown = _running(lines)
    mentions, findings, without = _mentions(lines, shown)
    lengths = tuple(_lengths(lines, without))
    length = len(lines.text.split("\n", 1)[0])
    prose = Prose(lines.text, lines.place(0, length), mentions, lengths)
    return prose, findings


def _running(lines: Lines) -> str:
    """The text with everything blanked that is no running text: code, comments, tags, addresses of links."""
    starts = [0, *(at + 1 for at, char in enumerate(lines.text) if char == "\n"), len(lines.text) + 1]
    shown = [char if char == "\n" else " " for char in lines.text]
    for first, last in lines.talk:
        start, end = starts[first], starts[last] - 1
        part = _blanked(lines.text[start:end], _code_spans(lines.text[start:end]))
        part = _blanked(part, (found.span() for found in _HIDDEN.finditer(part)))
        shown[start:end] = part
    return "".join(shown)


def _code_spans(text: str) -> Iterator[tuple[int, int]]:
    """Code spans as CommonMark has them: a run of backticks up to the next run of the same length."""
    runs = [found.span() for found in _TICKS.finditer(text)]
    last = {end - start: number for number, (start, end) in enumerate(runs)}
    number = 0
    while number < len(runs):
        start, end = runs[number]
        start += _escaped(text, start)
        close = number + 1
        if end > start and last.get(end - start, 0) >= close:
            while runs[close][1] - runs[close][0] != end - start and close < last[end - start]:
                close += 1
            yield start, runs[close][1]
            number = close
        number += 1


def _escaped(text: str, at: int) -> bool:
    """Whether an odd number of backslashes stands before a character."""
    start = at
    while start and text[start - 1] == "\\":
        start -= 1
    return bool((at - start) % 2)


def _blanked(text: str, spans: Iterable[tuple[int, int]]) -> str:
    chars = list(text)
    for start, end in spans:
        chars[start:end] = ("\n" if char == "\n" else " " for char in chars[start:end])
    return "".join(chars)


def _mentions(lines: Lines, shown: str) -> tuple[tuple[Mention, ...], tuple[Finding, ...], str]:
    mentions: list[Mention] = []
    findings: list[Finding] = []
    spans: list[tuple[int, int]] = []
    for found in _BRACES.finditer(shown):
        if found[0] in ("{{", "}}"):
            continue
        written = (found[1] or "").partition("|")[0]
        name = " ".join(written.split())
        if name and len(name) <= _LONGEST:
            mentions.append(Mention(name, found.start() + 1, lines.place(found.start() + 1, len(written))))
            spans.append(found.span())
        else:
            findings.append(_stray(lines, found))
    return tuple(mentions), tuple(findings), _blanked(shown, spans)


def _stray(lines: Lines, found: re.Match[str]) -> Finding:
    place = lines.place(found.start(), len(found[0]))
    said = "no name is closed by a brace on this line" if found[0] == "{" else "there is no name in it"
    if len(found[0]) > 2 and found[1].strip():
        said = f"its name is longer than {_LONGEST} characters"
    headline = f"line {place.line} has a `{{` in its prose, but {said}"
    return kinds.STRAY_BRACE.at(place, headline, hint="write `{{` where a brace is meant to be printed")


def _lengths(lines: Lines, shown: str) -> Iterator[TypedLength]:
    for found in _LENGTH.finditer(shown):
        text = " ".join(found[0].split())
        if found["unit"]:
            text = f"{found['number']} {found['unit']}" if found["unit"][0].isalpha() else found[0]
        if not (_is_a_word(shown, found) or _closes_quotation(shown, found)) and _reads(text):
            yield TypedLength(text, lines.place(found.start(), len(found[0])))


def _is_a_word(shown: str, found: re.Match[str]) -> bool:
    """Whether `in` after a whole number is the word, as in "put 2 in the box"."""
    whole = found["unit"] == "in" and found["number"].isdigit()
    return whole and _NOT_INCHES.match(shown, found.end()) is not None


def _closes_quotation(shown: str, found: re.Match[str]) -> bool:
    """Whether the mark after a number closes a quotation, as in "step 6"."""
    if found[0][-1] not in '"”':
        return False
    if found[0][-1] == "”":
        return "“" in shown[max(0, found.start() - 200) : found.start()].rsplit("”", 1)[-1]
    line = shown[shown.rfind("\n", 0, found.start()) + 1 : found.start()]
    marks = list(_MARKS.finditer(line))
    return bool(marks) and marks[-1]["opens"] is not None


def _reads(text: str) -> bool:
    try:
        read_length(text)
    except UnitProblem:
        return False
    return True
