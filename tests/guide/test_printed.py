"""The guide on paper: contents with page numbers, running heads, and nothing beyond the margins of any page."""

import re

import pypdfium2
import pytest
from page import validate_pdf_bytes

from planbook.handbook import paper
from planbook.press import bookmarks, page_count, page_sizes, press

MM = 25.4 / 72
"""One PDF point in mm (72 points to the inch, ISO 32000)."""
LEAST = 15.0
"""No text comes nearer to an edge of the paper than this, mm; the margins of the layout are 18 mm and more."""


@pytest.fixture(scope="module")
def printed(html):
    sheet = paper("a4")
    assert sheet is not None
    return press(html, sheet)


@pytest.fixture(scope="module")
def document(printed):
    return pypdfium2.PdfDocument(printed.pdf)


@pytest.mark.slow
def test_the_printer_has_nothing_to_say(printed) -> None:
    assert (printed.complaints, printed.refused, printed.odd_pages) == ((), (), ())
    # ISO 216: A4 is 210 mm by 297 mm.
    assert all(size == pytest.approx((210, 297), abs=0.1) for size in page_sizes(printed.pdf))


@pytest.mark.slow
def test_it_passes_an_independent_checker_of_pdf_ua(printed) -> None:
    """ISO 14289-1, by the 104 rules of page-validation."""
    report = validate_pdf_bytes(printed.pdf, profile="ua1")
    assert report.rules.total > 100
    assert [failure.message for failure in report.failures] == []


@pytest.mark.slow
def test_no_text_beyond_the_margins_and_no_empty_page(document) -> None:
    for number, page in enumerate(document):
        width, height = page.get_size()
        text = page.get_textpage()
        if number:
            assert len(text.get_text_bounded()) > 120, number + 1
        for n in range(text.count_rects()):
            left, bottom, right, top = (side * MM for side in text.get_rect(n))
            inside = (
                left > LEAST and bottom > LEAST / 2 and right < width * MM - LEAST and top < height * MM - LEAST / 2
            )
            assert inside, (number + 1, text.get_text_bounded(*text.get_rect(n)))


@pytest.mark.slow
def test_contents_and_bookmarks_lead_to_the_pages_where_chapters_begin(printed, document, page) -> None:
    chapters = [title for level, title in bookmarks(printed.pdf) if level == 1]
    assert chapters[0] == "Contents"
    assert len(chapters) == 15
    pages = [each.get_textpage().get_text_bounded() for each in document]
    contents = "\n".join(text for text in pages[1:4])
    for title in chapters[1:]:
        number = next(
            n for n, text in enumerate(pages, 1) if n > 3 and re.search(rf"^{re.escape(title)}\s*$", text, re.M)
        )
        assert re.search(rf"^{re.escape(title)}\s+{number}\s*$", contents, re.MULTILINE), (title, number)


@pytest.mark.slow
def test_pages_have_their_chapter_and_number(printed, document) -> None:
    assert page_count(printed.pdf) == len(document)
    for number in (5, 20, len(document)):
        last = document[number - 1].get_textpage().get_text_bounded().splitlines()[-1].strip()
        assert last == (f"The planbook handbook {number}" if number % 2 else f"{number} The planbook handbook")
