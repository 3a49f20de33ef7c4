"""Renders the prose of a design to harmless HTML; it does not know what the names in it mean."""

import re
from collections.abc import Callable, MutableMapping, Sequence
from functools import cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token
from markdown_it.utils import OptionsDict
from markupsafe import Markup, escape

from planbook.booklet.fractions import fractions

Resolve = Callable[[str], "Markup | str | None"]
_MENTION = re.compile(r"\{([^{}\n]{1,200})\}")
_COMMENT = re.compile(r"(?P<code>(?P<ticks>`+|~{3,}).*?(?P=ticks))|<!--.*?(?:-->|\Z)", re.DOTALL)
_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.-]+:|//")
_NOTHING_LEFT = re.compile(r"<p>\s*</p>\n?")
_WEB = re.compile(r"https?://[^\s/]", re.IGNORECASE)


def prose_html(text: str, resolve: Resolve, below: int = 2, *, photos_apart: bool = False) -> Markup:
    """Markdown as HTML blocks. Raw HTML is printed as text, pictures as their words, links only to the web.

    With `photos_apart`, pictures that are files are left out, since they are printed elsewhere.

    Its headings rank one below that of level `below`, whatever their own: a level left out confuses readers that
    go from heading to heading by ear.

    `{name}` becomes what `resolve` gives: markup as it is, text escaped, and for None the braces as written.
    `{{` and `}}` are literal braces; nothing is replaced inside code. Comments are left out.
    """
    shown = _COMMENT.sub(lambda found: found["code"] or "", text)
    env = {"resolve": resolve, "heading": f"h{below + 1}", "photos_apart": photos_apart}
    html = _markdown().render(shown, env)
    return Markup(_NOTHING_LEFT.sub("", html) if photos_apart else html)


def inline_html(text: str, resolve: Resolve) -> Markup:
    """Markdown of one line as HTML without a paragraph about it, otherwise like `prose_html`."""
    shown = _COMMENT.sub(lambda found: found["code"] or "", " ".join(text.split()))
    return Markup(_markdown().renderInline(shown, {"resolve": resolve}))


def plain_words(text: str, resolve: Resolve) -> str:
    """A line of words with the names in braces put in, without any marks."""

    def said(found: re.Match[str]) -> str:
        shown = resolve(" ".join(found[1].split()))
        return found[0] if shown is None else Markup(shown).striptags() if isinstance(shown, Markup) else str(shown)

    return "{".join("}".join(_MENTION.sub(said, part) for part in side.split("}}")) for side in text.split("{{"))


@cache
def _markdown() -> MarkdownIt:
    markdown = MarkdownIt("commonmark", {"html": False, "typographer": True}, renderer_cls=_Renderer)
    markdown.enable(["table", "replacements", "smartquotes"])
    markdown.inline.ruler.before("text", "mention", _mention)
    markdown.validateLink = lambda url: True  # type: ignore[method-assign]  # judged where it is printed
    return markdown


def _is_web(url: str) -> bool:
    return bool(_WEB.match(url.strip()))


def _mention(state: StateInline, silent: bool) -> bool:
    """A rule of the Markdown reader: a name in braces, or a doubled brace."""
    source, at = state.src, state.pos
    if source.startswith(("{{", "}}"), at):
        if not silent:
            state.pending += source[at]
        state.pos += 2
        return True
    found = _MENTION.match(source, at)
    if found is None:
        return False
    if not silent:
        token = state.push("mention", "", 0)
        token.content = found[1]
    state.pos = found.end()
    return True


class _Renderer(RendererHTML):
    """The HTML of each kind of token that is not set the usual way."""

    def text(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        return str(fractions(tokens[idx].content))

    def mention(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: MutableMapping[str, Any]) -> str:
        name = tokens[idx].content
        shown = env["resolve"](" ".join(name.split()))
        return str(escape(f"{{{name}}}") if shown is None else fractions(shown))

    def image(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        if env.get("photos_apart") and not _SCHEME.match(str(tokens[idx].attrGet("src") or "").strip()):
            return ""
        return str(fractions(self.renderInlineAsText(tokens[idx].children, options, env)))

    def link_open(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        """A link that does not lead to the web is printed as its words alone."""
        url = str(tokens[idx].attrGet("href") or "")
        return f'<a href="{escape(url)}">' if _is_web(url) else ""

    def link_close(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        """On paper a link is its words and its address, unless the words are the address."""
        url, words = _link_before(tokens, idx)
        if not _is_web(url):
            return ""
        shown = re.sub(r"^https?://|/$", "", url, flags=re.IGNORECASE)
        if words in (url, shown):
            return "</a>"
        return f'</a> <span class="address">({escape(shown)})</span>'

    def heading_open(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        return f"<{env['heading']}>"

    def heading_close(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        return f"</{env['heading']}>\n"


def _link_before(tokens: Sequence[Token], idx: int) -> tuple[str, str]:
    start = next(i for i in range(idx - 1, -1, -1) if tokens[i].type == "link_open")
    words = "".join(token.content for token in tokens[start + 1 : idx])
    return str(tokens[start].attrGet("href") or ""), words
