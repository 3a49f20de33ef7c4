"""Nothing is printed outside the margins: text and ink of every page of several editions."""

import sys
from importlib import util
from pathlib import Path
from types import ModuleType

import numpy as np
import pypdfium2
import pytest

from planbook.booklet import Edition, compose
from planbook.press import press

MM = 25.4 / 72
"""One PDF point in mm (72 points to the inch, ISO 32000)."""
TAB = 13.0
"""A thumb mark is no higher than this, mm."""
EDGE = 7.0
"""No text or ink comes nearer to an edge of the paper than this, mm: stencils keep 8 mm, pages more."""


@pytest.fixture(scope="module")
def tray() -> ModuleType:
    path = Path(__file__).parent.parent / "booklet" / "boat_tray.py"
    spec = util.spec_from_file_location("boat_tray_of_margins", path)
    assert spec is not None
    assert spec.loader is not None
    module = util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize(
    "edition",
    [
        Edition("a4", "mm", "de"),
        Edition("a4", "both", "fr"),
        Edition("letter", "in-decimal", "es"),
        Edition("letter", "in", layout="shop", ink="black"),
        Edition("a4", "mm", "de", layout="shop"),
        Edition("tabloid", "in"),
    ],
    ids=lambda edition: "-".join(edition.marks),
)
def test_no_text_or_ink_outside_the_margins(tray: ModuleType, edition: Edition) -> None:
    book = tray.boat_tray(edition, steps=3, stencils=1)
    printed = press(compose(book, edition.layout), edition.paper_row)
    document = pypdfium2.PdfDocument(printed.pdf)
    cover = edition.layout == "booklet"
    assert len(document) > 4
    for number, page in enumerate(document):
        if number == 0 and cover:  # its plate bleeds
            continue
        width, height = page.get_size()
        text = page.get_textpage()
        for n in range(text.count_rects()):
            left, bottom, right, top = (side * MM for side in text.get_rect(n))
            inside = left > EDGE and bottom > EDGE and right < width * MM - EDGE and top < height * MM - EDGE
            assert inside, (number + 1, text.get_text_bounded(*text.get_rect(n)))
        grey = np.atleast_3d(page.render(scale=1, grayscale=True).to_numpy())[..., 0]
        edge = int(EDGE / MM)
        inner, outer = (grey[:, :edge], grey[:, -edge:]) if number % 2 == 0 else (grey[:, -edge:], grey[:, :edge])
        for strip in (grey[:edge], grey[-edge:], inner):
            assert strip.min() > 250, number + 1
        assert_only_a_tab(outer, number + 1)


def assert_only_a_tab(strip: np.ndarray, number: int) -> None:
    """The tab of a part bleeds off the outer edge, in one piece; nothing else may stand there."""
    rows = np.flatnonzero(strip.min(axis=1) < 250)
    if rows.size:
        assert rows[-1] - rows[0] < TAB / MM, number
        assert rows.size == rows[-1] - rows[0] + 1, number
