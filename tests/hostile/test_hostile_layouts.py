"""Layouts of somebody else: templates that reach out or go on for ever, pictures that unpack to too much."""

import base64
import io
import shutil
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from planbook.booklet import Edition, LayoutProblem
from planbook.booklet.compose import environment, fill, words_of
from planbook.booklet.layouts import layout_folder
from planbook.booklet.own_layout import MOST_FILES, check_layout
from planbook.press import press
from planbook.press.fetch import MOST_PIXELS, Refused, Shelf

DOUBLE = "{% set ns = namespace(s='x' * 1000) %}{% for i in range(60) %}{% set ns.s = ns.s ~ ns.s %}{% endfor %}"
TEMPLATES = {
    "class of a text": "{{ ''.__class__.__mro__ }}",
    "subclasses": "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "globals of a function": "{{ words.items.__globals__ }}",
    "through a format": "{{ '{0.__class__.__init__.__globals__}'.format(words) }}",
    "through a filter": "{{ words|attr('__class__') }}",
    "through the cycler": "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
    "absolute file": "{% include '/etc/passwd' %}",
    "file above": "{% include '../secret.html' %}",
    "import above": "{% import '../secret.html' as x %}",
    "inherits from outside": "{% extends '/etc/passwd' %}",
    "changes the words": "{{ words.update(x=1) }}",
    "takes itself in": "{% include 'odd.html' %}",
    "macro that calls itself": "{% macro a() %}{{ a() }}{% endmacro %}{{ a() }}",
    "loop of loops": "{% for a in range(99999) %}{% for b in range(99999) %}{% endfor %}{% endfor %}",
    "loops in filters": "{{ range(99999)|map('string')|map('length')|sum }}" * 400,
    "range beyond all": "{{ range(10 ** 12)|list }}",
    "power": "{{ 9 ** 999999999 }}",
    "growing product": "{% set ns = namespace(n=9) %}{% for i in range(40) %}{% set ns.n = ns.n * ns.n %}{% endfor %}{{ ns.n }}",
    "repeated text": "{{ 'x' * 10 ** 10 }}",
    "repeated list": "{{ ([1] * 10 ** 10)|length }}",
    "doubled text": DOUBLE,
    "wide format": "{{ '%09999999999d'|format(1) }}",
    "filler text": "{{ lipsum(n=10000000) }}",
    "deep loops": "{% for a in [1] %}" * 300 + "{% endfor %}" * 300,
    "deep brackets": "{{ " + "(" * 5000 + "1" + ")" * 5000 + " }}",
    "unknown": "{{ config.items() }}",
}


@pytest.fixture
def own(tmp_path: Path) -> Path:
    (tmp_path / "secret.html").write_text("SECRET", "utf-8")
    return Path(shutil.copytree(layout_folder("shop"), tmp_path / "own"))


def filled(own: Path) -> None:
    check_layout(own, environment(own), words_of(own, "en"))
    fill(own, "odd.html", {"words": words_of(own, "en")})


@pytest.mark.usefixtures("little_time")
@pytest.mark.parametrize("what", TEMPLATES)
def test_a_template_that_reaches_out_or_never_ends_is_a_problem_of_its_layout(own: Path, what: str) -> None:
    (own / "odd.html").write_text(TEMPLATES[what], "utf-8")
    environment.cache_clear()
    with pytest.raises(LayoutProblem) as caught:
        filled(own)
    assert "SECRET" not in str(caught.value)
    assert caught.value.message


def test_a_usual_template_is_filled_in_as_before(own: Path) -> None:
    (own / "odd.html").write_text("{% for n in range(3) %}{{ 2 * n }}{{ 'ab' * n }} {% endfor %}{{ 2 ** 10 }}", "utf-8")
    assert fill(own, "odd.html", {}) == "0 2ab 4abab 1024"


def test_words_that_are_nested_too_deep_and_too_many_files_are_told(own: Path) -> None:
    (own / "words" / "en.toml").write_text("x = " + "[" * 3000 + "]" * 3000, "utf-8")
    with pytest.raises(LayoutProblem):
        words_of(own, "en")
    shutil.copy(layout_folder("shop") / "words" / "en.toml", own / "words" / "en.toml")
    for number in range(MOST_FILES):
        (own / f"{number}.txt").touch()
    with pytest.raises(LayoutProblem, match="at most"):
        check_layout(own, environment(own), words_of(own, "en"))


def test_a_template_that_is_too_large_is_told(own: Path) -> None:
    (own / "odd.html").write_text("x" * 3_000_000, "utf-8")
    with pytest.raises(LayoutProblem, match="larger"):
        check_layout(own, environment(own), words_of(own, "en"))


def picture(data: bytes, media: str = "image/png") -> str:
    return f"data:{media};base64,{base64.b64encode(data).decode()}"


def bomb(width: int, height: int) -> bytes:
    """A PNG that says it is that large; nothing is behind it (PNG, ISO/IEC 15948, 11.2.2)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")
    )


def svg(inside: str) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">{inside}</svg>'.encode()


def small() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (3, 2)).save(out, "PNG")
    return out.getvalue()


REFUSED = {
    "file": "file:///etc/passwd",
    "net": "http://198.51.100.7/x.png",
    "share": "//198.51.100.7/x.png",
    "relative": "../secret.html",
    "font elsewhere": "planbook:font/../../etc/passwd",
    "another font": "planbook:font/SourceSansPro-Nothing.ttf",
    "bomb": picture(bomb(10_000, 10_000)),
    "bomb of bombs": picture(bomb(200_000, 200_000)),
    "truncated": picture(small()[:40]),
    "no picture": picture(b"MZ\x90\x00"),
    "no base64": "data:image/png;base64,%%%",
    "html": "data:text/html,<script>1</script>",
    "laughs": picture(b'<!DOCTYPE svg [<!ENTITY a "ha">]>' + svg("&a;"), "image/svg+xml"),
    "use": picture(svg('<g id="a"/><use href="#a"/>'), "image/svg+xml"),
    "script": picture(svg("<script>1</script>"), "image/svg+xml"),
    "utf-16": picture('<svg xmlns="http://www.w3.org/2000/svg"/>'.encode("utf-16"), "image/svg+xml"),
    "odd encoding": picture(b"<?xml version='1.0' encoding='cp037'?>" + svg(""), "image/svg+xml"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_addresses_and_pictures_that_are_not_taken(what: str) -> None:
    with pytest.raises(Refused):
        Shelf().take(REFUSED[what])


def test_sound_pictures_are_taken() -> None:
    assert Shelf().take(picture(small())) == (small(), "image/png")
    assert Shelf().take(picture(svg("<path/>"), "image/svg+xml"))[1] == "image/svg+xml"
    assert MOST_PIXELS >= 6000 * 8000


PAGE = "<!DOCTYPE html><html lang='en'><title>x</title><style>{style} @page {{ size: A4 }}</style><p>x {body}"
INNER = '<image href="file:///etc/passwd" width="9" height="9"/>'
PAGES = {
    "picture of a file": ("", "<img alt='x' src='file:///etc/passwd'>"),
    "style of a file": ("@import url(file:///etc/passwd);", ""),
    "background": ("p { background: url(http://198.51.100.7/x.png) }", ""),
    "font": ("@font-face { font-family: x; src: url(file:///etc/passwd) } p { font-family: x }", ""),
    "list mark": ("p { display: list-item; list-style-image: url(http://198.51.100.7/x) }", ""),
    "content": ("p::before { content: url(file:///etc/passwd) }", ""),
    "object": ("", "<object data='file:///etc/passwd'></object>"),
    "embed": ("", "<embed src='file:///etc/passwd'>"),
    "link": ("", "<link rel='stylesheet' href='file:///etc/passwd'>"),
    "attachment": (
        "",
        "<link rel='attachment' href='file:///etc/passwd'><a rel='attachment' href='file:///etc/passwd'>x</a>",
    ),
    "picture in a picture": (
        "",
        f"<img alt='x' src='{picture(svg(INNER), 'image/svg+xml')}'>",
    ),
    "svg in the page": ("", "<svg><image href='file:///etc/passwd' width='9' height='9'/></svg>"),
    "bomb": ("", f"<img alt='x' src='{picture(bomb(30_000, 30_000))}'>"),
}


@pytest.mark.usefixtures("little_time")
@pytest.mark.parametrize("what", PAGES)
def test_the_press_reads_nothing_outside_the_page_and_says_what_was_asked_for(what: str) -> None:
    style, body = PAGES[what]
    pressed = press(PAGE.format(style=style, body=body), Edition("a4").paper_row)
    assert pressed.refused
    assert b"root:" not in pressed.pdf
