"""Pictures that the press draws itself look as the printer draws them; whatever else a picture holds is the printer's."""

import base64
import io
import re

import numpy as np
import pikepdf
import pypdfium2
import pytest
import weasyprint
from hypothesis import given
from hypothesis import strategies as st
from svgelements import Close, Line, Move, Path

from planbook.drawing.marks import Fill, Mark, Pen, Picture, Stroke, Words
from planbook.drawing.svg import svg
from planbook.press import press_page
from planbook.press.fetch import Shelf
from planbook.press.plain_pictures import Pictures
from planbook.press.plain_svg import Area, plain
from planbook.press.plain_svg import Line as PenLine
from planbook.press.press import _fetcher

FONTS = "".join(
    f'@font-face {{ font-family: "Source Sans Pro"; font-weight: {weight}; src: url("planbook:font/SourceSansPro-{name}.ttf") }}'
    for weight, name in ((400, "Regular"), (600, "Semibold"))
)
THICK, DASHED = Pen(0.8, "#b3322a"), Pen(0.5, "#0b6a75", dashes=(3.2, 0.6, 0.4, 0.6))
MARKS: tuple[Mark, ...] = (
    Fill((((5, 5), (45, 5), (45, 30), (5, 30)), ((15, 10), (35, 10), (35, 25), (15, 25))), "#917461"),
    Fill((((40, 3), (60, 20), (40, 36)),), "#2b1d0e", opacity=0.24),
    Stroke(((3, 3), (70.25, 7.5), (66, 38)), THICK, closed=True),
    Stroke(((5, 36), (70, 36)), DASHED),
    Stroke(((74, 20), (74, 20)), Pen(3)),
    Words((4, 20), "Ava (waste)  80 mm", 4, colour="#1d1d1b"),
    Words((40, 44), "fifth board", 5, colour="#3d4f8a", anchor="middle", bold=True),
    Words((78, 44), "grain", 3, colour="#1d1d1b", anchor="end"),
    Words((60, 30), "turned ⅜", 4, colour="#1d1d1b", anchor="middle", angle=-60),
)
FEW = 250
PICTURE = Picture(80, 48, MARKS, alt="Marks of every kind.")


def _carried(content: str) -> str:
    return "data:image/svg+xml;base64," + base64.b64encode(content.encode()).decode()


def _page(content: str) -> str:
    return (
        f'<html lang="en"><title>Marks</title><style>{FONTS} @page {{ size: 90mm 60mm; margin: 4mm }}'
        f'img {{ display: block }}</style><img alt="Marks of every kind." src="{_carried(content)}">'
    )


def _by_the_printer(html: str) -> bytes:
    found = weasyprint.HTML(string=html, url_fetcher=_fetcher(weasyprint, Shelf())).write_pdf(pdf_variant="pdf/ua-1")
    assert isinstance(found, bytes)
    return found


def _dots(pdf: bytes) -> np.ndarray:
    return np.asarray(pypdfium2.PdfDocument(pdf)[0].render(scale=300 / 72).to_pil(), dtype=np.int16)


def _other_dots(ours: bytes, theirs: bytes) -> int:
    """How many of the dots (of 750,000) are darker or lighter by a sixth."""
    return int((np.abs(_dots(ours) - _dots(theirs)).max(axis=2) > 40).sum())


def _said(pdf: bytes) -> list[str]:
    return sorted(pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range().split())


def test_every_mark_looks_as_the_printer_draws_it_from_the_same_file() -> None:
    """WeasyPrint's own reader of SVG is the measure; its text stands letter by letter, so that it may lie a dot beside."""
    ours, theirs = press_page(_page(svg(PICTURE))), _by_the_printer(_page(svg(PICTURE)))
    assert _other_dots(ours, theirs) < FEW
    assert _said(ours) == _said(theirs)


@pytest.mark.parametrize("number", range(len(MARKS)))
def test_a_mark_that_is_left_out_is_missed(number: int) -> None:
    """The comparison above sees each of the marks."""
    fewer = Picture(PICTURE.width, PICTURE.height, MARKS[:number] + MARKS[number + 1 :], alt=PICTURE.alt)
    ours, theirs = press_page(_page(svg(fewer))), _by_the_printer(_page(svg(PICTURE)))
    assert _other_dots(ours, theirs) > 2 * FEW


def test_the_press_draws_it_and_not_the_printer(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("the printer reads the picture")

    monkeypatch.setattr("weasyprint.images.SVGImage.__init__", never)
    assert "turned" in _said(press_page(_page(svg(PICTURE))))


def test_its_text_is_text_in_fonts_of_the_house_and_it_has_an_alternative() -> None:
    with pikepdf.open(io.BytesIO(press_page(_page(svg(PICTURE))))) as document:
        fonts = {str(font.BaseFont) for font in document.pages[0].Resources.Font.values()}
        figures = [
            each for each in document.objects if isinstance(each, pikepdf.Dictionary) and each.get("/S") == "/Figure"
        ]
        assert [str(figure.Alt) for figure in figures] == ["Marks of every kind."]
    assert all(re.fullmatch(r"/[A-Z]{6}\+Source-Sans-Pro(-Semi-Bold|-Semibold)?", font) for font in fonts), fonts
    assert len(fonts) == 2


STRANGE = {
    "a script": ("</g>", "<script>1</script></g>"),
    "an entity": ("<svg ", '<!DOCTYPE svg [<!ENTITY a "b">]><svg '),
    "a comment": ("<g ", "<!-- a --><g "),
    "a curve": ("M5 5l", "M5 5c1 1 2 2 3 3l"),
    "finer than a hundredth": ("M5 5l", "M5 5.125l"),
    "half a pair": ("M5 5l", "M5 5l7l"),
    "a colour by name": ("#917461", "brown"),
    "a link to elsewhere": ("<g ", '<image href="file:///etc/passwd"/><g '),
    "another middle to turn about": ("rotate(-60 60 30)", "rotate(-60 6 30)"),
    "a transform": ("<g ", '<g transform="scale(2)" '),
    "a style": ("<g ", '<g style="fill:red" '),
    "a nested group": ("</g>", "<g/></g>"),
    "another shape": ("</g>", '<circle r="3"/></g>'),
    "parts of text": ("turned", "<tspan>turned</tspan>"),
    "another box": ('viewBox="0 0 80 48"', 'viewBox="0 0 40 24"'),
    "a cut end": ("</svg>", ""),
    "no group": ("<g ", "<a "),
}


@pytest.mark.parametrize("what", STRANGE)
def test_whatever_the_drawing_does_not_write_is_left_to_the_printer(what: str) -> None:
    content = svg(PICTURE)
    assert plain(content.encode()) is not None
    old, new = STRANGE[what]
    assert old in content
    strange = content.replace(old, new, 1)
    assert plain(strange.encode()) is None
    assert _carried(strange) not in Pictures(None)


@pytest.mark.parametrize("address", ["data:image/svg+xml;base64,%%%", "data:image/png;base64,AAAA", "logo.svg", 7])
def test_other_addresses_are_no_pictures_of_ours(address: object) -> None:
    assert address not in Pictures(None)


POINT = st.tuples(*[st.floats(-300, 300, allow_nan=False)] * 2)


@given(st.lists(st.tuples(st.lists(POINT, min_size=1, max_size=8), st.booleans()), min_size=1, max_size=4))
def test_outlines_go_where_another_reader_of_paths_goes(lines: list[tuple[list[tuple[float, float]], bool]]) -> None:
    """svgelements reads the same path (SVG 1.1, 8.3); ours is in hundredths of a millimetre."""
    pen = Pen(0.3)
    content = svg(Picture(300, 300, tuple(Stroke(tuple(points), pen, closed=closed) for points, closed in lines)))
    found = plain(content.encode())
    assert found is not None
    (mark,) = found.marks
    assert isinstance(mark, PenLine)
    expected = []
    for part in Path(re.findall(r' d="([^"]*)"', content)[0]):
        if isinstance(part, Close):
            expected.append("h")
        else:
            assert isinstance(part, Move | Line)
            expected.append(
                f"{round(part.end.x * 100)} {round(part.end.y * 100)} {'m' if isinstance(part, Move) else 'l'}"
            )
    assert mark.outline.decode().split("\n")[:-1] == expected


def test_opacity_and_holes_are_read() -> None:
    found = plain(svg(PICTURE).encode())
    assert found is not None
    whole, veil = (mark for mark in found.marks if isinstance(mark, Area))
    assert (whole.opacity, veil.opacity) == (1.0, 0.24)
    assert whole.outline.count(b"m\n") == 2
