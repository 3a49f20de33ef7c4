import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from planbook.booklet import prose_html

NAMES: dict[str, Markup | str] = {
    "wall": "3/8 in",
    "drawer front": Markup('<a href="#piece-1">drawer front</a>'),
    "odd": "<script>",
}


ALLOWED = {"p", "a", "span", "em", "strong", "code", "pre", "ul", "ol", "li", "h3", "h4", "blockquote", "hr", "br"}


class Tags(HTMLParser):
    """Collects the tags and attributes of a text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def rendered(text: str) -> str:
    return str(prose_html(text, NAMES.get))


def test_markdown_becomes_blocks() -> None:
    assert rendered("One *two*.\n\n- a\n- b\n") == "<p>One <em>two</em>.</p>\n<ul>\n<li>a</li>\n<li>b</li>\n</ul>\n"


def test_a_size_is_printed_with_its_fraction() -> None:
    assert rendered("The {wall} wall.") == (
        '<p>The <span class="num"><span class="frac">3/8</span>\u00a0in</span> wall.</p>\n'
    )


def test_a_piece_becomes_what_resolve_gives() -> None:
    assert rendered("Take the {drawer  front}.") == '<p>Take the <a href="#piece-1">drawer front</a>.</p>\n'


def test_a_name_is_replaced_inside_emphasis_and_in_a_heading() -> None:
    assert "<strong><a " in rendered("**{drawer front}**")
    assert rendered("# {drawer front}").startswith("<h3><a ")


def test_an_unknown_name_stays_in_its_braces() -> None:
    assert rendered("The {lid}.") == "<p>The {lid}.</p>\n"


def test_a_text_from_resolve_is_escaped() -> None:
    assert rendered("{odd}") == "<p>&lt;script&gt;</p>\n"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("{{wall}}", "<p>{wall}</p>\n"),
        ("`{wall}`", "<p><code>{wall}</code></p>\n"),
        ("    {wall}\n", "<pre><code>{wall}\n</code></pre>\n"),
        ("```\n{wall}\n```\n", "<pre><code>{wall}\n</code></pre>\n"),
        ("a { b", "<p>a { b</p>\n"),
        ("{}", "<p>{}</p>\n"),
    ],
)
def test_braces_that_are_no_mention(text: str, shown: str) -> None:
    assert rendered(text) == shown


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "a <b onclick='x'>b</b>",
        "<style>@import 'file:///etc/passwd'</style>",
        "<iframe src='https://saltmarsh.example'></iframe>",
        "![a drum](file:///etc/passwd)",
        "![a drum](https://saltmarsh.example/x.png)",
        "[x](javascript:alert(1))",
        "[x](file:///etc/passwd)",
        "[x](data:text/html,hello)",
        "[x](planbook:font/SourceSansPro-Regular.ttf)",
        '[x](https://saltmarsh.example/"onclick="alert(1))',
        "<javascript:alert(1)>",
    ],
)
def test_nothing_that_acts_or_loads_comes_through(text: str) -> None:
    for tag, attributes in Tags(rendered(text)).found:
        assert tag in ("p", "a", "span")
        assert set(attributes) <= {"href", "class"}
        assert re.match(r"https?://", attributes.get("href") or "https://")


def test_a_picture_is_printed_as_its_words() -> None:
    assert rendered("![a *round* drum](drum.png)") == "<p>a round drum</p>\n"


def test_a_link_that_leads_elsewhere_is_its_words() -> None:
    assert rendered("[the *terms*](javascript:alert(1)) here") == "<p>the <em>terms</em> here</p>\n"


def test_a_link_is_printed_with_its_address() -> None:
    assert rendered("[terms](https://saltmarsh.example/terms)") == (
        '<p><a href="https://saltmarsh.example/terms">terms</a> '
        '<span class="address">(saltmarsh.example/terms)</span></p>\n'
    )
    assert rendered("<https://saltmarsh.example>") == (
        '<p><a href="https://saltmarsh.example">https://saltmarsh.example</a></p>\n'
    )


def test_comments_are_left_out_but_not_in_code() -> None:
    assert rendered("One <!-- later\n\nmore -->two.") == "<p>One two.</p>\n"
    assert "&lt;!-- kept --&gt;" in rendered("`<!-- kept -->`")


@given(st.text(alphabet="<>{}[]()!`*_#-/:&\"'abc \nhtpsjvrif", max_size=60))
def test_any_text_gives_only_harmless_tags(text: str) -> None:
    for tag, attributes in Tags(rendered(text)).found:
        assert tag in ALLOWED
        assert set(attributes) <= {"href", "class", "title", "start", "style"}
