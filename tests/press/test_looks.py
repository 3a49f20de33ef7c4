"""Which pages of a booklet are other ones than in the booklet before it."""

import random

import pytest

from planbook.booklet import Edition
from planbook.press import NoMaster, other_pages, press
from planbook.press.pages import bookmarked_pages

HEAD = """<!DOCTYPE html><html lang="en"><title>Tray</title><style>
@font-face { font-family: "Source Sans Pro"; src: url("planbook:font/SourceSansPro-Regular.ttf") }
@page { size: A4; margin: 20mm 30mm 20mm 15mm; @bottom-right { content: "Tray " counter(page) } }
@page :left { margin: 20mm 15mm 20mm 30mm; @bottom-right { content: none } @bottom-left { content: counter(page) " Tray" } }
html { font-family: "Source Sans Pro" } section { break-after: page } svg { width: 80mm }
</style>"""
COVER = "<section><h1>Tray</h1><p>Saltmarsh Workshop Version {}</section>"
TEXT = "<section><h1>Saw it</h1><p>Saw along the line, {} mm outside it.</section>"
PICTURE = '<section><h1>Drill it</h1><svg viewBox="0 0 80 40"><path d="M0 0H80V40H0Z" fill="{1}"/>\
<circle cx="{0}" cy="20" r="4" fill="#fff"/></svg></section>'
LAST = "<section><h1>Oil it</h1><p>Oil the tray, and wait a day.</section>"


def made(*sections: str) -> bytes:
    return press(HEAD + "".join(sections), Edition("a4").paper_row).pdf


@pytest.fixture(scope="module")
def old() -> bytes:
    return made(COVER.format("1.0"), TEXT.format(1), PICTURE.format(20, "#ba8"), LAST)


def test_the_same_has_no_other_pages(old):
    assert other_pages(old, made(COVER.format("1.0"), TEXT.format(1), PICTURE.format(20, "#ba8"), LAST)) == ()


@pytest.mark.parametrize(
    ("sections", "pages"),
    [
        ((TEXT.format(2), PICTURE.format(20, "#ba8")), (2,)),
        ((TEXT.format(1), PICTURE.format(21, "#ba8")), (3,)),
        ((TEXT.format(1), PICTURE.format(20, "#bb8")), (3,)),
        ((TEXT.format(11), PICTURE.format(22, "#ba8")), (2, 3)),
    ],
)
def test_words_shapes_and_colours_are_seen(old, sections, pages):
    assert other_pages(old, made(COVER.format("1.0"), *sections, LAST)) == pages


def test_a_page_that_only_moved_on_is_the_same(old):
    new = made(COVER.format("1.0"), TEXT.format(7), TEXT.format(1), PICTURE.format(20, "#ba8"), LAST)
    assert other_pages(old, new) == (2,)


def test_a_page_that_stands_twice_is_new_once(old):
    new = made(COVER.format("1.0"), TEXT.format(1), TEXT.format(1), PICTURE.format(20, "#ba8"), LAST)
    assert other_pages(old, new) == (3,)


def test_what_is_gone_makes_no_page_another_one(old):
    assert other_pages(old, made(COVER.format("1.0"), PICTURE.format(20, "#ba8"), LAST)) == ()


def test_two_versions_on_the_cover_say_the_same_and_other_numbers_do_not(old):
    new = made(COVER.format("1.1"), TEXT.format(1), PICTURE.format(20, "#ba8"), LAST)
    assert other_pages(old, new) == (1,)
    assert other_pages(old, new, ("Version 1.0", "Version 1.1")) == ()
    # 1.10 is another number than 1.1.
    more = made(COVER.format("1.10"), TEXT.format(1), PICTURE.format(20, "#ba8"), LAST)
    assert other_pages(old, more, ("Version 1.0", "Version 1.1")) == (1,)


def test_every_bookmark_has_its_page(old):
    assert bookmarked_pages(old) == [("Tray", 1), ("Saw it", 2), ("Drill it", 3), ("Oil it", 4)]


def test_what_is_no_booklet_is_refused(old):
    with pytest.raises(NoMaster):
        other_pages(b"no pdf", old)
    with pytest.raises(NoMaster):
        other_pages(old, b"no pdf")


def test_whatever_is_damaged_is_compared_or_refused(old):
    """200 files with 1 to 400 bytes that are other ones, each read in two ways."""
    chance = random.Random(20261129)
    refused = 0
    for number in range(200):
        data = bytearray(old)
        for _ in range((1, 5, 40, 400)[number % 4]):
            data[chance.randrange(len(data))] = chance.randrange(256)
        for look in (lambda data: other_pages(old, data), bookmarked_pages):
            try:
                look(bytes(data))
            except NoMaster:
                refused += 1
    assert 0 < refused < 400
