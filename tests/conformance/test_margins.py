"""Nothing is printed outside the margins: text and ink of every page, on all papers, in all layouts and languages."""

import io
from itertools import cycle, product
from types import ModuleType
from typing import get_args

import pikepdf
import pytest

from planbook.booklet import Edition, compose
from planbook.booklet.editions import Language, PaperName, Units
from planbook.press import press

UNITS = cycle(get_args(Units))
EVERY = [
    Edition(paper, next(UNITS), language, layout=layout, ink=ink)
    for paper, language, (layout, ink) in product(
        get_args(PaperName), get_args(Language), (("booklet", "colour"), ("shop", "black"))
    )
]


@pytest.mark.parametrize("edition", EVERY, ids=lambda edition: "-".join((edition.paper, *edition.marks)))
def test_no_text_or_ink_outside_the_margins(edition: Edition, tray: ModuleType, ink: ModuleType, faults) -> None:
    book = tray.boat_tray(edition, steps=2, stencils=1)
    pdf = press(compose(book, edition.layout), edition.paper_row).pdf
    assert ink.outside(pdf, cover=edition.layout == "booklet") == []
    assert faults(pdf) == []


@pytest.mark.parametrize(
    ("drawn", "told"),
    [
        ("BT /F 12 Tf 590 400 Td (off) Tj ET", "off"),
        ("BT /F 12 Tf 700 400 Td (beside) Tj ET", "beside"),
        ("100 830 20 20 re f", "above"),
        ("100 0 20 10 re f", "below"),
        ("0 300 10 10 re f", "at the fold"),
        ("585 300 10 60 re f", "at the outer edge"),
        ("585 300 10 10 re 585 400 10 10 re f", "at the outer edge"),
    ],
)
def test_what_stands_outside_is_found(drawn: str, told: str, ink: ModuleType) -> None:
    with pikepdf.new() as document:
        page = document.add_blank_page(page_size=(595, 842))
        font = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)
        page.obj.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=font))
        page.obj.Contents = document.make_stream(drawn.encode())
        out = io.BytesIO()
        document.save(out)
    (found, *_) = ink.outside(out.getvalue())
    assert told in found
