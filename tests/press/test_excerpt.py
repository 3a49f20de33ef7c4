"""A correction sheet: the pages asked for behind the front page, with their tags and nothing of other pages."""

import io
import re
from types import ModuleType

import pikepdf
import pypdfium2
import pytest

from planbook.booklet import Edition, compose
from planbook.booklet.correction import CorrectionSheet, correction_html
from planbook.press import NoMaster, booklet_facts, excerpt, press, press_page

PAGES = (3, 5, 6)


@pytest.fixture(scope="module")
def book(tray: ModuleType) -> bytes:
    return press(compose(tray.boat_tray(Edition("a4"), steps=4, stencils=2)), Edition("a4").paper_row).pdf


@pytest.fixture(scope="module")
def front() -> bytes:
    sheet = CorrectionSheet("Tray <1>", "1.0", "1.1", PAGES, 210, 297, ("2 Hull",), ("the hull is 2 mm longer",))
    return press_page(correction_html(sheet))


@pytest.fixture(scope="module")
def made(book: bytes, front: bytes) -> bytes:
    return excerpt(book, PAGES, front)


def texts(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [page.get_textpage().get_text_bounded() for page in document]
    finally:
        document.close()


def test_it_has_the_front_page_and_the_pages_asked_for(book: bytes, made: bytes) -> None:
    whole, found = texts(book), texts(made)
    assert found[1:] == [whole[number - 1] for number in PAGES]
    assert "Tray <1>" in found[0]
    assert "2 Hull" in found[0]
    assert "3, 5, 6" in found[0]


def test_nothing_of_other_pages_is_in_the_file(book: bytes, made: bytes) -> None:
    with pikepdf.open(io.BytesIO(made)) as document:
        assert document.check_pdf_syntax() == []
        pages = {page.obj.objgen for page in document.pages}
        kinds = [item for item in document.objects if isinstance(item, pikepdf.Dictionary)]
        assert {item.objgen for item in kinds if item.get("/Type") == "/Page"} == pages
        assert not {"/Outlines", "/Names"} & set(document.Root.keys())
        assert all(item.Pg.objgen in pages for item in kinds if "/Pg" in item)
    assert len(made) < len(book)


def marked_in(document: pikepdf.Pdf) -> dict[tuple[int, int], set[int]]:
    """The numbers of marked content that the tree of tags knows, page by page."""
    found: dict[tuple[int, int], set[int]] = {}
    waiting = [(document.Root.StructTreeRoot.K, None)]
    while waiting:
        item, page = waiting.pop()
        if isinstance(item, pikepdf.Array):
            waiting += [(kid, page) for kid in item]
        elif isinstance(item, pikepdf.Dictionary):
            page = item.Pg.objgen if "/Pg" in item else page
            if item.get("/Type") == "/MCR":
                found.setdefault(page, set()).add(int(item.MCID))
            elif "/K" in item:
                waiting.append((item.K, page))
        else:
            found.setdefault(page, set()).add(int(item))
    return found


def test_its_pages_are_tagged_as_far_as_those_of_the_booklet(book: bytes, made: bytes) -> None:
    with pikepdf.open(io.BytesIO(book)) as whole, pikepdf.open(io.BytesIO(made)) as document:
        before, after = marked_in(whole), marked_in(document)
        for place, number in enumerate(PAGES, start=1):
            assert after[document.pages[place].obj.objgen] == before[whole.pages[number - 1].obj.objgen]
        assert len(after[document.pages[0].obj.objgen]) > 5
        rows = pikepdf.NumberTree(document.Root.StructTreeRoot.ParentTree)
        numbers = [int(page.obj.StructParents) for page in document.pages]
        assert sorted(rows) == sorted(numbers)
        assert len(set(numbers)) == len(numbers)
        assert re.search(rb"<pdfuaid:part|pdfuaid:part=", document.Root.Metadata.read_bytes())


def test_the_same_pages_give_the_same_bytes(book: bytes, front: bytes, made: bytes) -> None:
    assert excerpt(book, PAGES, front) == made


def test_a_page_that_is_not_there_is_told(book: bytes, front: bytes) -> None:
    for pages in ((0,), (3, 900)):
        with pytest.raises(NoMaster) as caught:
            excerpt(book, pages, front)
        assert caught.value.page == pages[-1] or pages[-1] == 0
    with pytest.raises(NoMaster):
        excerpt(b"no pdf", (1,), front)
    with pytest.raises(NoMaster):
        booklet_facts(b"no pdf")


def test_facts_of_a_booklet(book: bytes) -> None:
    facts = booklet_facts(book)
    assert (facts.title, facts.language) == ("Boat-shaped tray", "en")
    assert (facts.width, facts.height) == pytest.approx((210, 297), abs=0.01)
