"""Cuts `steps.md` into headings, operation blocks and the lines between; not what they mean."""

import re
from bisect import bisect_left
from dataclasses import dataclass
from functools import cache
from typing import Literal

from markdown_it import MarkdownIt
from markdown_it.token import Token

_COMMENT = re.compile(r"<!--.*?(?:-->|\Z)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Block:
    """A heading or an operation block: its lines (from 0, end exclusive) and what stands in it.

    For a block `text` is its body, `words` its info string, and `indents` say how far each line of the body
    is indented in the file.
    """

    kind: Literal["title", "step", "operation"]
    start: int
    end: int
    words: str
    text: str = ""
    indents: tuple[int, ...] = ()
    closed: bool = True


@dataclass(frozen=True, slots=True)
class Outline:
    """The lines of a file, its blocks in order, and which runs of lines hold running text."""

    lines: tuple[str, ...]
    blocks: tuple[Block, ...]
    talk: tuple[tuple[int, int], ...]

    def blocks_in(self, start: int, end: int) -> tuple[Block, ...]:
        """The blocks that begin in some lines."""
        first = bisect_left(self.blocks, start, key=lambda block: block.start)
        return self.blocks[first : bisect_left(self.blocks, end, key=lambda block: block.start)]

    def talk_in(self, start: int, end: int) -> tuple[tuple[int, int], ...]:
        """The runs of running text in some lines, counted from the first of them."""
        first, last = bisect_left(self.talk, (start, start)), bisect_left(self.talk, (end, end))
        return tuple((a - start, b - start) for a, b in self.talk[first:last] if b <= end)


@cache
def _parser() -> MarkdownIt:
    return MarkdownIt("commonmark").disable("inline")


def outline(text: str) -> Outline:
    """Find the title, the second-level headings, and the fenced blocks with an info string."""
    lines = tuple(text.replace("\0", "\ufffd").split("\n"))
    tokens = _parser().parse(text)
    blocks: list[Block] = []
    talk: list[tuple[int, int]] = []
    headed = False
    for number, token in enumerate(tokens):
        if token.map is None:
            continue
        start, end = token.map
        if token.type == "inline":
            talk.append((start, end))
        elif token.type == "fence" and token.info.strip():
            blocks.append(_operation(token, start, end, lines))
        elif token.type == "heading_open" and token.level == 0 and token.tag in ("h1", "h2"):
            kind: Literal["title", "step"] = "step" if token.tag == "h2" else "title"
            if kind == "step" or not headed:
                blocks.append(Block(kind, start, end, without_comments(tokens[number + 1].content)))
            headed = True
    return Outline(lines, tuple(blocks), tuple(talk))


def without_comments(text: str) -> str:
    """A text without its HTML comments, blank space at its ends taken off."""
    return _COMMENT.sub("", text).strip()


def _operation(token: Token, start: int, end: int, lines: tuple[str, ...]) -> Block:
    body = token.content.split("\n")
    count = len(body) - (body[-1] == "")
    indents = tuple(
        len(line) - len(inner) if line.endswith(inner.lstrip()) else 0
        for line, inner in zip(lines[start + 1 : start + 1 + count], body, strict=False)
    )
    closed = end - start - 1 > count
    return Block("operation", start, end, " ".join(token.info.split()), token.content, indents, closed)
