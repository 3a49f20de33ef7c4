"""Looks for text and ink outside the margins of the pages of a PDF."""

import numpy as np
import pypdfium2

MM = 25.4 / 72
"""One PDF point in mm (72 points to the inch, ISO 32000)."""
TAB = 13.0
"""A thumb mark is no higher than this, mm."""
EDGE = 7.0
"""No text or ink comes nearer to an edge of the paper than this, mm: stencils keep 8 mm, pages more."""


def outside(pdf: bytes, cover: bool = False) -> list[str]:
    """What stands outside the margins, and on which page; text also where no page shows it.

    With `cover`, the first page has a plate that bleeds: only its text is looked at.
    """
    document = pypdfium2.PdfDocument(pdf)
    try:
        found = []
        for number, page in enumerate(document, start=1):
            found += [f"page {number}: {text!r}" for text in _text_outside(page)]
            if not (cover and number == 1):
                found += [f"page {number}: ink {where}" for where in _ink_outside(page, number)]
        return found
    finally:
        document.close()


def _text_outside(page: pypdfium2.PdfPage) -> list[str]:
    width, height = (side * MM for side in page.get_size())
    text, found = page.get_textpage(), []
    for n in range(text.count_rects()):
        box = text.get_rect(n)
        left, bottom, right, top = (side * MM for side in box)
        if not (left > EDGE and bottom > EDGE and right < width - EDGE and top < height - EDGE):
            found.append(text.get_text_bounded(*box) or f"at {left:.1f}, {bottom:.1f} mm")
    return found


def _ink_outside(page: pypdfium2.PdfPage, number: int) -> list[str]:
    grey = np.atleast_3d(page.render(scale=1, grayscale=True).to_numpy())[..., 0]
    edge = int(EDGE / MM)
    inner, outer = (grey[:, :edge], grey[:, -edge:]) if number % 2 else (grey[:, -edge:], grey[:, :edge])
    strips = {"above": grey[:edge], "below": grey[-edge:], "at the fold": inner}
    found = [name for name, strip in strips.items() if strip.min() <= 250]
    return found + ([] if _only_a_tab(outer) else ["at the outer edge"])


def _only_a_tab(strip: np.ndarray) -> bool:
    """The tab of a part bleeds off the outer edge, in one piece; nothing else may stand there."""
    rows = np.flatnonzero(strip.min(axis=1) < 250)
    if not rows.size:
        return True
    high = rows[-1] - rows[0]
    return bool(high < TAB / MM and rows.size == high + 1)
