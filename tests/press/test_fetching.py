import base64

import pytest

from planbook.booklet import Edition
from planbook.press import Refused, press
from planbook.press.fetch import Shelf

SVG = b"<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><path d='M0 0h9v9z'/></svg>"


def test_the_fonts_of_the_house_are_on_the_shelf() -> None:
    for name in ("SourceSerifPro-Regular.ttf", "SourceSansPro-Semibold.ttf"):
        content, media = Shelf().take(f"planbook:font/{name}")
        assert content[:4] == b"\x00\x01\x00\x00"
        assert media == "font/ttf"


def test_a_picture_carried_in_the_page_is_taken() -> None:
    carried = "data:image/svg+xml;base64," + base64.b64encode(SVG).decode()
    assert Shelf().take(carried) == (SVG, "image/svg+xml")
    assert Shelf().take("data:image/svg+xml,%3Csvg/%3E") == (b"<svg/>", "image/svg+xml")


@pytest.mark.parametrize(
    "url",
    [
        "file:///etc/hostname",
        "http://saltmarsh.example/a.png",
        "https://saltmarsh.example/a.png",
        "ftp://saltmarsh.example/a.png",
        "data:text/html,hello",
        "planbook:font/../__init__.py",
        "planbook:font/SourceSansPro-Regular.ttf/..",
        "planbook:other",
        "/etc/hostname",
        "",
    ],
)
def test_everything_else_is_refused_and_remembered_once(url: str) -> None:
    shelf = Shelf()
    for _ in range(2):
        with pytest.raises(Refused):
            shelf.take(url)
    assert shelf.refused == [url]


def test_a_font_there_is_not_and_broken_base64_are_refused() -> None:
    for url in ("planbook:font/SourceSansPro-Wobbly.ttf", "data:image/png;base64,a"):
        with pytest.raises(Refused):
            Shelf().take(url)


@pytest.mark.parametrize(
    "html",
    [
        "<img src='file:///etc/hostname' alt=''>",
        "<img src='http://127.0.0.1:9/a.png' alt=''>",
        "<link rel=stylesheet href='file:///etc/hostname'>",
        "<style>@import url(file:///etc/hostname);</style>",
        "<style>body { background: url(file:///etc/hostname) }</style>",
        "<link rel=attachment href='file:///etc/hostname'>",
        "<object data='file:///etc/hostname'></object>",
        "<svg xmlns='http://www.w3.org/2000/svg'><image href='file:///etc/hostname' width='9' height='9'/></svg>",
    ],
)
def test_a_page_that_asks_for_a_file_or_the_network_does_not_get_it(html: str) -> None:
    found = press(f"<!DOCTYPE html><html lang=en><title>t</title><body>{html}", Edition().paper_row)
    assert found.refused
    assert b"/EmbeddedFile" not in found.pdf


def test_a_picture_inside_a_carried_picture_is_refused_too() -> None:
    outer = SVG.replace(b"<path", b"<image href='file:///etc/hostname' width='9' height='9'/><path")
    source = "data:image/svg+xml;base64," + base64.b64encode(outer).decode()
    found = press(f"<!DOCTYPE html><html lang=en><title>t</title><img src='{source}' alt=''>", Edition().paper_row)
    assert found.refused == ("file:///etc/hostname",)
