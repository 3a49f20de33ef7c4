"""The listing of a plan, and the sample and the sheet of materials as they are set."""

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from types import ModuleType

import jsonschema
import pytest

from planbook.booklet import Book, Edition
from planbook.booklet.offer import (
    Listing,
    listing_html,
    listing_json,
    listing_of,
    listing_schema,
    listing_text,
    material_html,
    sample_anchors,
    sample_html,
    sample_steps,
)

VOID = {"meta", "img", "br", "link", "input", "hr"}


class Balance(HTMLParser):
    """Follows the tags of a page and the addresses it would load."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.loads: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in VOID:
            self.open.append(tag)
        self.loads += [value or "" for name, value in attrs if name in ("src", "href")]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.fixture
def book(boat_tray: ModuleType) -> Book:
    made: Book = boat_tray.boat_tray(Edition("a4", "mm"))
    return made


@pytest.fixture
def listing(book: Book) -> Listing:
    return listing_of(book, "12.00 EUR", "Build as many as you like.", "A4, millimetres", 31)


def test_the_listing_says_what_a_buyer_asks(book: Book, listing: Listing) -> None:
    text = listing_text(listing)
    for said in (book.title, "Pages: 31", "A4, millimetres", "12.00 EUR", "Build as many as you like."):
        assert said in text
    for row in (*book.tools, *book.supplies):
        assert row.name in text
    assert all(len(line) <= 80 for line in text.splitlines())


def test_names_alone_are_a_list_and_what_has_an_amount_a_table(book: Book, listing: Listing) -> None:
    page = listing_html(book, listing)
    for row in book.supplies:
        assert re.search(rf"<th[^>]*>{re.escape(row.name)}</th><td>", page)
    assert "<li>" in page
    assert 'colspan="2"' not in page


def test_an_unknown_price_is_left_out(book: Book) -> None:
    text = listing_text(listing_of(book, "", "", "A4, millimetres", 31))
    assert "Price" not in text
    assert "Licence:" not in text


def test_the_listing_for_programs_has_the_form_that_is_documented(listing: Listing) -> None:
    schema = listing_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    data = json.loads(listing_json(listing))
    jsonschema.validate(data, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**data, "pages": "many"}, schema)


def test_the_listing_as_a_page_is_whole_and_loads_nothing(book: Book, listing: Listing) -> None:
    page = listing_html(replace(book, cover=None), replace(listing, title="<script>alert(1)</script> & more"))
    seen = Balance(page)
    assert not seen.open
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert all(address.startswith("data:") for address in seen.loads)
    assert page.startswith("<!DOCTYPE html>")


def test_a_sample_holds_no_stencil_and_no_measured_drawing(book: Book) -> None:
    from planbook.booklet.compose import source

    page = sample_html(book)
    assert book.stencils
    for row in (*book.stencils, *book.sheets):
        assert str(source(row.figure)) not in page
    assert book.steps[0].figures
    assert str(source(book.steps[0].figures[0])) in page


def test_two_steps_with_pictures_are_shown(book: Book) -> None:
    shown = sample_steps(book.steps)
    assert len(shown) == 2
    assert all(book.steps[number - 1].figures for number in shown)
    assert sample_steps(()) == ()
    assert {"glance", "pieces", f"step-{shown[0]}"} <= set(sample_anchors(book, shown))


def test_the_sheet_of_materials_names_every_board(book: Book) -> None:
    page = material_html(book, 1.0)
    assert not Balance(page).open
    assert all(f"<td>{row.wood}</td>" in page for row in book.boards)
