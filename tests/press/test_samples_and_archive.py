"""Sample pages hold nothing of other pages; the archival copy carries its files; headings of tables have a scope."""

import io
from types import ModuleType

import pikepdf
import pypdfium2
import pytest

from planbook.booklet import Edition, compose
from planbook.booklet.offer import sample_anchors, sample_html
from planbook.press import Pressed, page_count, png, press, press_samples

A4 = Edition("a4", "mm")


def words(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [page.get_textpage().get_text_bounded() for page in document]
    finally:
        document.close()


def streams(pdf: bytes) -> list[bytes]:
    """Everything that is drawn in a file, also what no page shows."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return [item.read_bytes() for item in document.objects if isinstance(item, pikepdf.Stream)]


@pytest.fixture(scope="module")
def sample(tray: ModuleType) -> tuple[bytes, int]:
    book = tray.boat_tray(A4)
    # Steps 3 and 4 have photos, which no page of these two has.
    pressed, count = press_samples(sample_html(book), A4.paper_row, sample_anchors(book, (7, 10)))
    assert pressed.complaints == ()
    return pressed.pdf, count


def test_a_sample_has_few_pages_and_counts_all(sample: tuple[bytes, int], tray: ModuleType) -> None:
    pdf, count = sample
    whole = press(compose(tray.boat_tray(A4)), A4.paper_row).pdf
    assert count == page_count(whole)
    assert 4 <= page_count(pdf) <= 6


def test_the_pages_of_a_sample_are_those_that_were_asked_for(sample: tuple[bytes, int], tray: ModuleType) -> None:
    text = " ".join(words(sample[0]))
    assert "At a glance" in text
    assert tray.TITLES[6] in text
    assert "Proof of fits" in words(sample[0])[1]


def hull(tray: ModuleType) -> list[tuple[float, float]]:
    """The outline on every stencil of the invented booklet, mm."""
    return [*tray._oval(A4.sheet.width, 120, 0.9)]


def test_nothing_of_a_stencil_is_in_a_sample(sample: tuple[bytes, int], tray: ModuleType, search: ModuleType) -> None:
    whole = press(compose(tray.boat_tray(A4)), A4.paper_row).pdf
    assert any("page" in place for place in search.traces(whole, hull(tray)))
    assert search.traces(sample[0], hull(tray)) == []
    with pikepdf.open(io.BytesIO(sample[0])) as document:
        assert "/EmbeddedFiles" not in document.Root.get("/Names", {})
        kinds = {str(item.get("/Subtype")) for item in document.objects if isinstance(item, pikepdf.Stream)}
    assert "/Image" not in kinds  # no picture of a stencil either


HIDDEN = {
    "smaller, slanted and the other way round": lambda points: _content("q .2 .1 0 .4 50 60 cm", points[::-1]),
    "begun elsewhere": lambda points: _content("", points[20:] + points[:20]),
    "as SVG": lambda points: ("<path d='M" + "L".join(f"{x:.2f},{y:.2f}" for x, y in points) + "z'/>").encode(),
    "as DXF": lambda points: "\n".join(f" 10\n{x:.3f}\n 20\n{y:.3f}" for x, y in points).encode(),
}


def _content(before: str, points: list[tuple[float, float]]) -> bytes:
    (first, *others) = points
    drawn = f"{first[0]:f} {first[1]:f} m " + " ".join(f"{x:f} {y:f} l" for x, y in others)
    return f"{before} {drawn} h S".encode()


@pytest.mark.parametrize("how", HIDDEN)
def test_an_outline_is_found_however_it_is_hidden(
    how: str, sample: tuple[bytes, int], tray: ModuleType, search: ModuleType
) -> None:
    with pikepdf.open(io.BytesIO(sample[0])) as document:
        document.Root["/Hidden"] = document.make_stream(HIDDEN[how](hull(tray)))
        out = io.BytesIO()
        document.save(out)
    assert search.traces(out.getvalue(), hull(tray))


def test_every_heading_of_a_table_says_what_it_heads(pressed: Pressed) -> None:
    with pikepdf.open(io.BytesIO(pressed.pdf)) as document:
        headings = [
            item for item in document.objects if isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/TH"
        ]
        assert {str(item.A.Scope) for item in headings} == {"/Row", "/Column"}
        assert "pdfuaid" in document.Root.Metadata.read_bytes().decode()


def test_an_archival_copy_carries_its_files_and_is_the_same_twice(tray: ModuleType) -> None:
    html = compose(tray.boat_tray(A4, steps=2, stencils=1))
    files = {"design.toml": b'title = "Tray"', "lists.csv": b"a,b\n", "hull.dxf": b"0\nEOF\n"}
    first, second = (press(html, A4.paper_row, standard="pdf/a-3u", attached=files).pdf for _ in range(2))
    assert first == second
    with pikepdf.open(io.BytesIO(first)) as document:
        assert {
            name: bytes(document.attachments[name].get_file().read_bytes()) for name in document.attachments
        } == files
        kinds = {str(item.UF): str(item.AFRelationship) for item in document.Root.AF}
        assert kinds["design.toml"] == "/Source"
        assert kinds["lists.csv"] == "/Data"
        metadata = document.Root.Metadata.read_bytes().decode()
        assert "pdfaid" in metadata
        assert "/OutputIntents" in document.Root
        assert not [item for item in document.objects if _loose_font(item)]


def _loose_font(item: pikepdf.Object) -> bool:
    """A font that is not in the file (ISO 19005-3, 6.2.11.4)."""
    if not isinstance(item, pikepdf.Dictionary) or item.get("/Type") != "/FontDescriptor":
        return False
    return not {"/FontFile", "/FontFile2", "/FontFile3"} & set(item.keys())


def test_a_picture_has_its_pixels_and_says_nothing_else() -> None:
    from PIL import Image

    page = "<html lang='en'><title>x</title><style>@page{size:20mm 10mm;margin:0;background:#00ff00}</style><body>"
    data = png(page, 400, 200)
    with Image.open(io.BytesIO(data)) as picture:
        assert (picture.size, picture.format, picture.info) == ((400, 200), "PNG", {})
        assert picture.getpixel((200, 100)) == (0, 255, 0)
    assert data == png(page, 400, 200)
