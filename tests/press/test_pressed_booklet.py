import io
import os
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from types import ModuleType

import numpy as np
import pikepdf
import pypdfium2
import pytest

from planbook.booklet import Edition, compose
from planbook.press import Pressed, bookmarks, metadata, page_sizes, press
from planbook.press.complaints import FASTER

SIZES = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""ASME Y14.1 size A, 8.5 x 11 in; ISO 216:2007 A4; mm."""
MM = 72 / 25.4


def test_every_page_has_the_size_of_the_paper(pressed: Pressed, edition: Edition) -> None:
    wide, high = SIZES[edition.paper]
    sizes = page_sizes(pressed.pdf)
    assert len(sizes) > 15
    for width, height in sizes:
        assert width == pytest.approx(wide, abs=0.01)
        assert height == pytest.approx(high, abs=0.01)
    assert pressed.odd_pages == ()


def test_pages_of_another_size_are_reported(tray: ModuleType) -> None:
    found = press(compose(tray.boat_tray(Edition("a4"), steps=1, stencils=0)), Edition("letter").paper_row)
    assert found.odd_pages == tuple(range(1, len(page_sizes(found.pdf)) + 1))


def test_a_clean_booklet_brings_no_complaints(pressed: Pressed) -> None:
    assert pressed.complaints == ()
    assert pressed.refused == ()


def test_title_author_language_and_tags(pressed: Pressed) -> None:
    facts = metadata(pressed.pdf)
    assert facts["Title"] == "Boat-shaped tray"
    assert facts["Author"] == "Saltmarsh Workshop"
    assert not {"CreationDate", "ModDate"} & set(facts)
    with pikepdf.open(io.BytesIO(pressed.pdf)) as document:
        assert str(document.Root.Lang) == "en"
        assert document.Root.MarkInfo.Marked
        assert "/StructTreeRoot" in document.Root


def test_every_figure_in_the_tag_tree_has_alternative_text(pressed: Pressed) -> None:
    with pikepdf.open(io.BytesIO(pressed.pdf)) as document:
        figures = [item for item in document.objects if _is_figure(item)]
        assert len(figures) > 30
        assert all(str(figure.get("/Alt", "")) for figure in figures)


def _is_figure(item: pikepdf.Object) -> bool:
    return isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/Figure"


def test_bookmarks_lead_to_parts_steps_and_stencils(pressed: Pressed) -> None:
    marks = bookmarks(pressed.pdf)
    parts = [title for level, title in marks if level == 1]
    assert parts[:4] == ["Cover", "At a glance", "How to use this plan", "Safety"]
    assert {"Steps", "Proof of fits", "Licence and version", "Stencils"} <= set(parts)
    below = [title for level, title in marks if level == 2]
    assert below[0] == "1 Mill the boards"
    assert len(below) == 18 + 5


def test_stencils_start_on_a_right_hand_page(pressed: Pressed) -> None:
    texts = _texts(pressed.pdf)
    first = next(n for n, text in enumerate(texts, start=1) if "1 of 5: outline" in text)
    assert first % 2 == 1
    assert len(texts) == first + 4


def test_no_text_stands_outside_its_page_or_on_its_very_edge(pressed: Pressed) -> None:
    document = pypdfium2.PdfDocument(pressed.pdf)
    for page in document:
        width, height = page.get_size()
        words = page.get_textpage()
        for n in range(words.count_rects()):
            left, bottom, right, top = words.get_rect(n)
            assert left >= 5 * MM
            assert right <= width - 5 * MM
            assert bottom >= 5 * MM
            assert top <= height - 5 * MM


def test_no_page_is_empty_and_no_heading_stands_last(pressed: Pressed) -> None:
    titles = ["Steps", "Proof of fits", "Licence and version", "Lumber list", "The pieces", "Tools and supplies"]
    for text in _texts(pressed.pdf):
        lines = [line.strip() for line in text.splitlines() if line.strip()]
        assert len(lines) >= 1
        body = [line for line in lines if not line.isdigit() and line != "Boat-shaped tray"]
        assert not body or body[-1] not in titles or len(body) == 1


@pytest.mark.parametrize("above", [162, 166, 170])
def test_safety_begins_with_its_first_rows_below_the_heading(tray: ModuleType, above: int) -> None:
    """So much blank paper (mm) stands above it that the heading alone would still have room on the page before."""
    html = compose(tray.boat_tray(Edition("a4"), steps=1, stencils=0))
    part = '<section class="part follow safety"'
    moved = html.replace(part, f'<div style="height: {above}mm"></div>{part}')
    (page,) = [text for text in _texts(press(moved, Edition("a4").paper_row).pdf) if "You alone decide" in text]
    assert moved != html
    assert "The signal words" in page
    assert "DANGER" in page
    assert [line.strip() for line in page.splitlines()].count("Safety") == 2  # the heading, and the head of the page


def test_a_page_is_headed_by_the_part_at_its_top(pressed: Pressed) -> None:
    """The precautions end on the page amid which tools and supplies begin; the glance begins at a top."""
    texts = [[line.strip() for line in text.splitlines()] for text in _texts(pressed.pdf)]
    (page,) = [lines for lines in texts if any("What you need at the bench" in line for line in lines)]
    assert (page.count("Tools and supplies"), page.count("Safety")) == (1, 1)
    assert any(lines.count("At a glance") == 2 for lines in texts)


def test_parts_and_steps_come_in_order_of_their_pages(pressed: Pressed) -> None:
    with pikepdf.open(io.BytesIO(pressed.pdf)) as document, document.open_outline() as outline:
        order = {page.objgen: n for n, page in enumerate(document.pages)}
        pages = [order[item.destination[0].objgen] for item in outline.root]
    assert pages == sorted(pages)
    assert any(a < b for a, b in pairwise(pages))


def test_bars_of_100_mm_are_100_mm_on_paper(pressed: Pressed, tray: ModuleType) -> None:
    """Rendered at 600 dpi and measured on the last stencil, across and down; within 0.1 mm."""
    dpi = 600
    document = pypdfium2.PdfDocument(pressed.pdf)
    pixels = np.asarray(document[len(document) - 1].render(scale=dpi / 72).to_pil(), dtype=np.int16)
    red, green, blue = (pixels[:, :, k] for k in range(3))
    across = np.nonzero((red - blue > 128) & (green < 128))
    down = np.nonzero((blue - red > 128) & (green < 128))
    half = 0.15  # round ends: half the pen on each side
    for (rows, columns), along, top in ((across, 1, tray.BAR_TOP), (down, 0, tray.BAR_TOP + 5)):
        ends = (rows, columns)[along]
        assert (ends.max() - ends.min() + 1) / dpi * 25.4 == pytest.approx(tray.BAR + 2 * half, abs=0.1)
        assert columns.min() / dpi * 25.4 == pytest.approx(tray.BAR_LEFT - half, abs=0.1)
        assert rows.min() / dpi * 25.4 == pytest.approx(top - half, abs=0.1)


def test_a_draft_is_marked_on_every_page_and_can_be_read(tray: ModuleType) -> None:
    edition = Edition("a4", draft=True)
    texts = _texts(press(compose(tray.boat_tray(edition, steps=3, stencils=2)), edition.paper_row).pdf)
    assert len(texts) > 8
    assert all(text.replace("\r\n", "").count("DRAFT") == 1 for text in texts)


ONCE = """
import sys
from pathlib import Path
from planbook.booklet import Edition
from planbook.press import press
html = Path(sys.argv[1]).read_text(encoding="utf-8")
sys.stdout.buffer.write(press(html, Edition("letter").paper_row).pdf)
"""


def test_two_processes_give_the_same_bytes_without_paths_or_dates(tray: ModuleType, tmp_path: Path) -> None:
    html = compose(tray.boat_tray(Edition(), steps=2, stencils=1))
    source = tmp_path / "book.html"
    source.write_text(html, encoding="utf-8")
    found = []
    for seed in ("1", "2"):
        run = subprocess.run(
            [sys.executable, "-c", ONCE, str(source)],
            capture_output=True,
            check=True,
            cwd=tmp_path,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        found.append(run.stdout)
        assert run.stderr == b""
    assert found[0] == found[1]
    assert found[0] == press(html, Edition().paper_row).pdf
    with pikepdf.open(io.BytesIO(found[0])) as document:
        plain = io.BytesIO()
        document.save(plain, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.all)
    for part in (str(tmp_path), str(Path.home()), "site-packages", "weasyprint-"):
        assert part.encode() not in plain.getvalue()


PLAIN = """<!DOCTYPE html><html lang="en"><title>Tray</title><style>
@font-face { font-family: "Source Sans Pro"; src: url("planbook:font/SourceSansPro-Regular.ttf") }
p { font-family: "Source Sans Pro" }</style><p>A tray of walnut."""


def test_without_harfbuzz_subset_the_bytes_are_the_same_at_any_time_of_day(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    press(PLAIN, Edition().paper_row)  # loads the printer
    monkeypatch.setattr("weasyprint.pdf.fonts.harfbuzz_subset", None)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1234567890")
    found = []
    for now in (1.7e9, 1.8e9):
        monkeypatch.setattr("time.time", lambda now=now: now)
        found.append(press(PLAIN, Edition().paper_row))
    assert found[0].pdf == found[1].pdf
    assert found[0].advice == (FASTER,)
    assert found[0].complaints == ()
    assert os.environ["SOURCE_DATE_EPOCH"] == "1234567890"


def test_another_text_has_another_identifier(tray: ModuleType) -> None:
    ids = []
    for steps in (1, 2):
        html = compose(tray.boat_tray(Edition(), steps=steps, stencils=0))
        with pikepdf.open(io.BytesIO(press(html, Edition().paper_row).pdf)) as document:
            ids.append(bytes(document.trailer.ID[0]))
    assert ids[0] != ids[1]


def _texts(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]
