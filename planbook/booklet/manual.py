"""Markdown and templates of the handbook of the tool: headings with anchors, tables, links inside the text."""

import re
from collections.abc import Callable, Sequence
from functools import cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import OptionsDict
from markupsafe import Markup, escape

from planbook.booklet.compose import fill
from planbook.booklet.fractions import fractions
from planbook.booklet.layouts import layout_root

LAYOUT = "guide"


def manual_html(text: str) -> Markup:
    """Markdown as HTML blocks."""
    return Markup(_markdown().render(text))


def manual_words(text: str) -> Markup:
    """One run of Markdown as HTML, without a block around it."""
    return Markup(_markdown().renderInline(text))


def manual_parts(text: str) -> list[tuple[int, str, str]]:
    """A chapter cut at its headings of the first and second level: level (0 before any), heading, Markdown below it."""
    lines, parts = text.split("\n"), [(0, "", 0, 0)]
    for at, token in enumerate(tokens := _markdown().parse(text)):
        if token.type == "heading_open" and token.level == 0 and token.tag in ("h1", "h2") and token.map:
            start, end = token.map
            parts.append((int(token.tag[1]), tokens[at + 1].content, start, end))
    ends = [*(start for _, _, start, _ in parts[1:]), len(lines)]
    return [(level, head, "\n".join(lines[a:b]).strip()) for (level, head, _, a), b in zip(parts, ends, strict=True)]


def anchor_of(words: str) -> str:
    """The anchor of a heading or name."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")


def fill_manual(guide: object, fonts: Callable[[str], str] = lambda html: html) -> str:
    """The handbook as one HTML text. Raises LayoutProblem."""
    return fonts(fill(layout_root() / LAYOUT, "guide.html", {"guide": guide}))


@cache
def _markdown() -> MarkdownIt:
    markdown = MarkdownIt("commonmark", {"html": False, "typographer": True}, renderer_cls=_Renderer)
    markdown.enable(["table", "replacements", "smartquotes"])
    return markdown


class _Renderer(RendererHTML):
    """The HTML of each kind of token that is not set the usual way."""

    def text(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        return str(fractions(tokens[idx].content))

    def heading_open(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        """Headings inside a section; the two levels above are set by the template."""
        return f'<{tokens[idx].tag} id="{anchor_of(tokens[idx + 1].content)}">'

    def fence(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        kind = "typed" if tokens[idx].info.strip() in ("sh", "text") else "written"
        return f'<pre class="{kind}"><code>{escape(tokens[idx].content.rstrip())}</code></pre>\n'
