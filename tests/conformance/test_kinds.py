"""Whatever is sold or sent with a booklet keeps to the standard its metadata name, by an independent checker."""

import io
import zlib
from types import ModuleType

import pikepdf
import pytest

from planbook.booklet import Edition, compose
from planbook.booklet.correction import CorrectionSheet, correction_html
from planbook.booklet.offer import material_html, sample_anchors, sample_html
from planbook.press import Owner, Typesetter, copier, excerpt, press, press_page, press_samples, usual_faces, with_mark
from planbook.press.streams import pack

A4 = Edition("a4", "mm", "fr")


@pytest.fixture(scope="module")
def whole(tray: ModuleType) -> bytes:
    return press(compose(tray.boat_tray(A4, steps=4, stencils=2)), A4.paper_row).pdf


def test_a_file_that_breaks_a_rule_is_found_out(whole: bytes, faults) -> None:
    """The checker can fail: without a scope, an alternative text, a title, a language."""
    with pikepdf.open(io.BytesIO(whole)) as document:
        figure = next(each for each in document.objects if isinstance(each, pikepdf.Dictionary) and "/Alt" in each)
        del figure["/Alt"], document.Root["/Lang"], document.Root.ViewerPreferences
        out = io.BytesIO()
        document.save(out)
    told = " ".join(faults(out.getvalue()))
    assert "ALT" in told
    assert "LANG" in told
    assert "VIEWER-PREFERENCES" in told


def test_sample_pages(tray: ModuleType, faults) -> None:
    book = tray.boat_tray(A4, steps=6, stencils=2)
    pressed, _ = press_samples(sample_html(book), A4.paper_row, sample_anchors(book, (2, 5)))
    assert faults(pressed.pdf) == []


def test_a_material_sheet(tray: ModuleType, faults) -> None:
    assert faults(press(material_html(tray.boat_tray(A4, steps=2, stencils=1), 0.8), A4.paper_row).pdf) == []


def test_a_buyers_copy(whole: bytes, faults) -> None:
    marked = with_mark(whole)
    assert faults(marked) == []
    owner = Owner("Ada Fenn", "1042", "For one maker")
    assert faults(marked + copier(marked, Typesetter([next(usual_faces())])).copy(owner)) == []


def test_a_correction_sheet(whole: bytes, faults) -> None:
    sheet = CorrectionSheet("Tray", "1.0", "1.1", (3, 5, 6), 210, 297, ("2 Hull",), ("the hull is longer",), "fr")
    assert faults(excerpt(whole, (3, 5, 6), press_page(correction_html(sheet)))) == []


def test_a_copy_for_archives(tray: ModuleType, faults) -> None:
    """PDF/A-3 (ISO 19005-3); what the metadata say beside what stands in the information of the document is 6.6.2.3."""
    files = {"design.toml": b'title = "Tray"', "lists.csv": b"a,b\n", "hull.svg": b"<svg/>", "hull.dxf": b"0\nEOF\n"}
    html = compose(tray.boat_tray(A4, steps=4, stencils=2))
    pdf = press(html, A4.paper_row, standard="pdf/a-3u", attached=files).pdf
    assert faults(pdf, "3u") == []
    with pikepdf.open(io.BytesIO(pdf)) as document:
        kinds = {str(each.UF): (str(each.AFRelationship), str(each.EF.F.Subtype)) for each in document.Root.AF}
        assert kinds == {
            "design.toml": ("/Source", "/application/toml"),
            "lists.csv": ("/Data", "/text/csv"),
            "hull.svg": ("/Data", "/image/svg+xml"),
            "hull.dxf": ("/Data", "/image/vnd.dxf"),
        }
        assert document.Root.OutputIntents[0].S == "/GTS_PDFA1"
        assert "/Filter" not in document.Root.Metadata
        assert {"/OpenAction", "/AA", "/AcroForm"}.isdisjoint(document.Root.keys())
        with document.open_metadata() as told:
            assert told["dc:title"] == str(document.docinfo.Title)
            assert told["dc:creator"] == [str(document.docinfo.Author)]
            assert told["dc:description"] == str(document.docinfo.Subject)
            assert (told["pdfaid:part"], told["pdfaid:conformance"]) == ("3", "U")
        fonts = [each for each in document.objects if isinstance(each, pikepdf.Dictionary) and "/BaseFont" in each]
        assert fonts
        assert all("/ToUnicode" in font for font in fonts if font.get("/Subtype") == "/Type0")


def test_no_stream_looks_shorter_than_it_is() -> None:
    """A stream that ends in a carriage return looks one byte too short beside the line feed (ISO 19005-3, 6.1.7.1)."""

    class Stream:
        compress = True

        def __init__(self, content: bytes, **extra: str) -> None:
            self.stream, self.extra = [content], dict(extra)

    ending = next(text for text in (b"%d" % n for n in range(10**6)) if zlib.compress(text).endswith(b"\r"))
    usual, odd, told = Stream(b"0 0 m 9 9 l S"), Stream(ending), Stream(b"<x/>", Type="/Metadata")
    pack([usual, odd, told])
    assert (zlib.decompress(usual.stream[0]), usual.extra) == (b"0 0 m 9 9 l S", {"Filter": "/FlateDecode"})
    assert (odd.stream, odd.extra) == ([ending], {})
    assert (told.stream, told.extra) == ([b"<x/>"], {"Type": "/Metadata"})
