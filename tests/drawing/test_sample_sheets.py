"""The stencil sheets of the samples: no words cut off, every line in the key, every sheet checked both ways."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.stencil_pages import A4, LETTER, MARGIN, StencilPage, stencil_pages
from planbook.drawing.stencil_pens import INK, SMALL
from planbook.drawing.stencil_read import stencil_arts
from planbook.drawing.stencil_room import words_box
from planbook.drawing.stencil_words import StencilWords, fitted
from planbook.drawing.tiles_marks import _filled
from planbook.model import with_language
from planbook.reader import read_design
from planbook.solids import Path as Path2
from planbook.speech import LANGUAGES, speaking
from planbook.units import INCH_32, MM_TENTH
from planbook.workshop import Timeline
from planbook.workshop.run import build

DESIGNS = Path(__file__).parents[2] / "designs"
SAMPLES = sorted(path.name for path in DESIGNS.iterdir() if path.is_dir())
KEY = {
    "cut": "key_cut",
    "sand to": "key_sand",
    "kerf side": "key_side",
    "kerf": "key_middle",
    "waste": "key_waste",
    "hole": "key_hole",
    "entry": "key_entry",
    "edge": "key_edge",
    "guide": "key_guide",
    "apart": "key_apart",
    "crop": "key_crop",
    "tile": "key_tile",
    "trim": "key_trim",
}


@cache
def made(name: str) -> Timeline:
    reading = read_design(DESIGNS / name)
    assert reading.design is not None
    return build(reading.design)


@cache
def sheets(name: str, language: str) -> tuple[tuple[StencilPage, ...], StencilWords]:
    """The pages on A4 in millimetres, and on Letter in inches."""
    timeline = made(name)
    own = timeline.design.translations.get(language)
    timeline = replace(timeline, design=with_language(timeline.design, language))
    with speaking(language, own.words if own else {}):
        words, arts = StencilWords.spoken(), stencil_arts(timeline)
        both = ((A4, MM_TENTH), (LETTER, INCH_32))
        pages = [page for paper, style in both for page in stencil_pages(arts, paper, MARGIN, words, style)]
    return tuple(pages), words


def said(page: StencilPage) -> list[Words]:
    return [mark for mark in page.picture.marks if isinstance(mark, Words)]


every = pytest.mark.parametrize(("name", "language"), [(n, each) for n in SAMPLES for each in LANGUAGES])


@every
def test_no_words_are_cut_off(name: str, language: str) -> None:
    assert [mark.text for page in sheets(name, language)[0] for mark in said(page) if "…" in mark.text] == []


@every
def test_words_can_be_read_on_a_cheap_printer(name: str, language: str) -> None:
    """None smaller than 2 mm (5.7 points), but the letters and numbers of the small map."""
    assert min(mark.size for page in sheets(name, language)[0] for mark in said(page)) >= 2.0


@every
def test_every_line_on_a_sheet_is_in_its_key(name: str, language: str) -> None:
    pages, words = sheets(name, language)
    for page in pages:
        layers, texts = {mark.layer for mark in page.picture.marks}, {mark.text for mark in said(page)}
        assert [layer for layer, word in KEY.items() if layer in layers and getattr(words, word) not in texts] == []


@every
def test_every_sheet_can_be_measured_along_and_across(name: str, language: str) -> None:
    """50 mm, 2 in or more each way: a stretch of 1 % is half a millimetre, which a steel rule shows."""
    for page in sheets(name, language)[0]:
        marks = page.picture.of_layer("check")
        lines = [mark.points for mark in marks if isinstance(mark, Stroke) and mark.pen.width > 0.15]
        for axis in (0, 1):
            spans = {round(max(p[axis] for p in line) - min(p[axis] for p in line), 6) for line in lines}
            assert spans & {50.0, 100.0}
            assert spans & {50.8, 101.6}


def test_words_on_tabs_are_black_on_bare_paper() -> None:
    """Neither tint nor hatching lies under them."""
    tiles = [page for page in sheets("dory-stool", "en")[0] if page.kind == "tile"]
    told = [(page, mark) for page in tiles for mark in said(page) if mark.layer == "frame"]
    assert len(told) >= len(tiles)
    for page, mark in told:
        assert (mark.colour, mark.size) == (INK, SMALL)
        bed = words_box(mark)
        for other in (*page.picture.of_layer("waste"), *page.picture.of_layer("frame")):
            if isinstance(other, Stroke):
                assert not Path2(other.points).inside(bed)
            elif isinstance(other, Fill):
                assert _filled(other.rings).meet(bed).size < 0.01


def test_a_caption_is_set_smaller_before_it_is_cut() -> None:
    text = "Left, right, upper and lower are meant with the arrow up."
    assert fitted(text, ((SMALL, 1), (2.3, 2)), 100.0)[0] == SMALL
    size, lines = fitted(text, ((SMALL, 1), (2.3, 2)), 50.0)
    assert (size, " ".join(lines)) == (2.3, text)
    assert fitted(text, ((SMALL, 1),), 20.0)[1][-1].endswith("…")


def test_the_note_of_a_rounded_block_names_no_corner() -> None:
    arts = {art.title: art for art in stencil_arts(made("curlew-box"))}
    hollow = arts["Drawer hollow"]
    left, low, _, _ = hollow.face.bounds
    assert not hollow.face.holds((left + 1.0, low + 1.0))
    assert "corner" not in hollow.note
