"""Photos and the moment of a film on the printed page; codes are read back by OpenCV, which had no hand in them."""

import re

import cv2
import numpy as np
import pypdfium2
import pytest

from planbook.booklet import Edition, prose_html
from planbook.booklet.compose import compose
from planbook.booklet.prose import plain_words
from planbook.booklet.shown import LEAST_CODE, QUIET, code, film_row
from planbook.model import Card, Moment
from planbook.press import press
from planbook.text import Place

HERE = Place("steps.md")
ADDRESS = "https://film.example/saltmarsh/boat-tray?from="


def card(**more: str) -> Card:
    return Card("Tray", "", "1.0", "Saltmarsh Workshop", "mm", "", "", "", "https://film.example/a", HERE, **more)


AROUND = 4 * LEAST_CODE / 25.4 * 72
"""How far around an address its code is looked for, points: a whole page takes seconds."""


def codes_on(pdf: bytes, scale: float) -> list[tuple[str, float]]:
    """What the codes beside the addresses on the pages of a PDF say, and how wide each is, mm."""
    document = pypdfium2.PdfDocument(pdf)
    found = []
    for page in document:
        words, (wide, high) = page.get_textpage(), page.get_size()
        place = words.search("film.example").get_next()
        if place is None:
            continue
        left, bottom, right, top = words.get_charbox(place[0])
        crop = [max(0.0, each - AROUND) for each in (left, bottom, wide - right, high - top)]
        seen = page.render(scale=scale, grayscale=True, crop=tuple(crop)).to_numpy().squeeze()
        read, texts, corners, _ = cv2.QRCodeDetector().detectAndDecodeMulti(np.ascontiguousarray(seen))
        for text, box in zip(texts, corners, strict=True) if read else ():
            found.append((text, float(np.linalg.norm(box[1] - box[0])) / scale * 25.4 / 72))
    document.close()
    return found


@pytest.mark.parametrize("layout", ["booklet", "shop"])
@pytest.mark.parametrize("paper", ["a4", "a3"])
def test_codes_are_read_from_the_printed_page(boat_tray, layout: str, paper: str) -> None:
    edition = Edition(paper, "mm")
    pressed = press(compose(boat_tray.boat_tray(edition, steps=11, stencils=1), layout), edition.paper_row)
    assert pressed.refused == ()
    assert not [said for said in pressed.complaints if not said.startswith("No anchor #step-")]
    found = codes_on(pressed.pdf, 4)
    assert sorted(text for text, _ in found) == sorted(f"{ADDRESS}{95 * number}" for number in (2, 4, 11))
    assert all(width > LEAST_CODE - 0.5 for _, width in found)
    links = [str(a["uri"]) for a in _links(pressed.pdf)]
    assert {f"{ADDRESS}{95 * number}" for number in (2, 4, 11)} <= set(links)


def _links(pdf: bytes):
    import io

    import pikepdf

    with pikepdf.open(io.BytesIO(pdf)) as document:
        for page in document.pages:
            for note in page.get("/Annots", []):
                if "/A" in note and "/URI" in note.A:
                    yield {"uri": str(note.A.URI)}


@pytest.mark.parametrize("address", ["https://film.example/a", "https://film.example/" + "a" * 279])
def test_a_code_is_wide_enough_and_has_a_bare_rim(address: str) -> None:
    """At least 20 mm, with a rim of four modules (ISO/IEC 18004)."""
    figure = code(address, "words")
    whole = int(re.search(r'viewBox="0 0 (\d+)', figure.svg)[1])
    modules = whole - 2 * QUIET
    assert (modules - 17) % 4 == 0  # versions of ISO/IEC 18004 have 21, 25, 29 ... modules
    assert figure.width == figure.height
    assert figure.width * modules / whole >= 20
    assert figure.width / whole >= 0.6
    xs = [int(x) for x in re.findall(r"M(\d+) \d+h\d+v1", figure.svg)]
    assert min(xs) == QUIET == 4


def test_the_film_says_where_it_leads() -> None:
    row = film_row(card(film_moment="https://film.example/a?s={seconds}"), Moment(250, HERE))
    assert row is not None
    assert (row.label, row.address, row.shown) == (
        "In the film at 4 min 10 s",
        "https://film.example/a?s=250",
        "film.example/a?s=250",
    )
    assert "4 min 10 s" in row.figure.alt
    assert film_row(card(), None) is None


def test_words_of_a_photo() -> None:
    shown = {"lid": "small lid", "wall": "3 mm"}
    assert plain_words("The {lid}, {wall} thick; {none} {{x}}", shown.get) == "The small lid, 3 mm thick; {none} {x}"


def test_photos_stand_apart_from_the_words() -> None:
    text = "One.\n\n![The lid](lid.jpg)\n\nTwo ![and](b.jpg) three."
    html = str(prose_html(text, lambda _: None, photos_apart=True))
    assert re.findall(r"<p>(.*?)</p>", html) == ["One.", "Two  three."]
    assert "img" not in str(prose_html(text, lambda _: None))


def test_the_photos_of_a_layout_are_no_higher_than_a_third_of_the_page() -> None:
    from planbook.model.pictures import PHOTO_ROOM

    letter = 279.4  # ANSI/ASME Y14.1 size A, mm
    assert PHOTO_ROOM[1] <= letter / 3
