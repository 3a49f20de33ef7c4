"""Finds what the words of a step ask to be shown or followed: photos, HTML and links; it opens no file."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import PurePosixPath
from urllib.parse import unquote

from markdown_it import MarkdownIt
from markdown_it.token import Token

from planbook.model import Shown
from planbook.reader import photo_kinds
from planbook.reader.prose import Lines
from planbook.text import Finding, Place

_COMMENT = re.compile(r"(?P<code>(?P<ticks>`+|~{3,}).*?(?P=ticks))|<!--.*?(?:-->|\Z)", re.DOTALL)
_WEB = re.compile(r"https?://[^\s/]", re.IGNORECASE)
_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.-]+:|//")
_QUOTED = 60


@dataclass(slots=True)
class Brought:
    """The photos of some words in order, and what is wrong with how things are brought in."""

    shown: list[Shown] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def brought_by(lines: Lines) -> Brought:
    """The photos, HTML and links of some lines of prose."""
    brought = Brought()
    if not any(sign in lines.text for sign in "<["):
        return brought
    text = _COMMENT.sub(lambda found: found["code"] or re.sub(r"[^\n]", " ", found[0]), lines.text)
    finder = _Finder(lines, text)
    for token in _parser().parse(text):
        if token.type == "html_block":
            brought.findings.append(_html(token.content, finder.place(token.content.strip()[:_QUOTED], token)))
        for child in _all(token.children or ()) if token.type == "inline" else ():
            _take(brought, child, token, finder)
    return brought


@cache
def _parser() -> MarkdownIt:
    parser = MarkdownIt("commonmark").enable("table")
    parser.validateLink = lambda url: True  # type: ignore[method-assign]  # judged here
    parser.normalizeLink = lambda url: url  # type: ignore[method-assign]  # shown as it is written
    return parser


def _all(tokens: "list[Token] | tuple[Token, ...]") -> Iterator[Token]:
    for token in tokens:
        yield token
        if token.type != "image":
            yield from _all(token.children or ())


@dataclass(slots=True)
class _Finder:
    """Where things stand: each is looked for behind the one before it."""

    lines: Lines
    text: str
    at: int = 0

    def place(self, words: str, block: Token) -> Place:
        starts = [0, *(n + 1 for n, char in enumerate(self.text) if char == "\n"), len(self.text) + 1]
        first, last = block.map or (0, len(starts) - 1)
        start, end = starts[first], starts[min(last, len(starts) - 1)] - 1
        words = words.split("\n")[0]
        found = self.text.find(words, max(self.at, start), end) if words else -1
        if found < 0:
            return self.lines.place(start, max(1, self.text.find("\n", start, end) - start))
        self.at = found + len(words)
        return self.lines.place(found, len(words))


def _take(brought: Brought, token: Token, block: Token, finder: _Finder) -> None:
    if token.type == "image":
        src = str(token.attrGet("src") or "")
        place = finder.place(src, block)
        if _SCHEME.match(src.strip()):
            brought.findings.append(_elsewhere(src, place))
        else:
            brought.shown.append(Shown(_name(src), alt_of(token.children or []), place))
    elif token.type == "html_inline" and not token.content.startswith("<!--"):
        brought.findings.append(_html(token.content, finder.place(token.content, block)))
    elif token.type == "link_open":
        url = str(token.attrGet("href") or "")
        if not _WEB.match(url.strip()):
            headline = f"a link leads to `{_seen(url)}`, which is no web address"
            hint = "name the place in words, or give its address on the web"
            brought.findings.append(photo_kinds.LINK_NOWHERE.at(finder.place(url, block), headline, hint=hint))
    elif token.type == "text" and "![" in token.content:
        headline = "what looks like a photo here is not written as one"
        hint = "write `![What is seen](<name of the file.jpg>)`"
        brought.findings.append(photo_kinds.NOT_UNDERSTOOD.at(finder.place("![", block), headline, hint=hint))


def alt_of(tokens: list[Token]) -> str:
    """The words of the brackets of a photo, without their marks."""
    words = (" " if token.type.endswith("break") else alt_of(token.children or []) or token.content for token in tokens)
    return " ".join("".join(words).split())


def _name(src: str) -> str:
    """A file as its folder calls it: many editors write a blank as `%20`."""
    name = unquote(src.strip())
    return name if not name or name.startswith("/") else PurePosixPath(name).as_posix()


def _html(text: str, place: Place) -> Finding:
    headline = f"`{_seen(text)}` is HTML, which is printed as text"
    return photo_kinds.HTML.at(place, headline, hint="write it in Markdown, or leave it out")


def _elsewhere(src: str, place: Place) -> Finding:
    headline = f"a photo is asked for by the address `{_seen(src)}`, and nothing is loaded from elsewhere"
    hint = "put the file into the folder of the design, and write its name"
    return photo_kinds.FROM_ELSEWHERE.at(place, headline, hint=hint)


def _seen(text: str) -> str:
    """Words from a file as a finding quotes them."""
    shown = "".join(char if char.isprintable() else " " for char in " ".join(text.split()))
    return (shown if len(shown) <= _QUOTED else f"{shown[:_QUOTED]}…").replace("`", "'")
