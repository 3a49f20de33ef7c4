"""Finds the pages of a new booklet that say or show something else than any page of the old one; it draws nothing.

What a page looks like is told apart from where it lies: a page that only moved on, so that its number is another one
and its margins are mirrored, is the same page.
"""

import ctypes
import math
import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import pypdfium2
import pypdfium2.raw as pdfium

from planbook.press.mark import NoMaster

_DEEPEST = 6
_SAME = 0.03
"""Points by which a shape may lie elsewhere and still be the same: a hundredth of a millimetre."""
_EDGE = 0.5
"""What comes as near to the left or right edge of the paper (points) is mirrored with the page, such as thumb marks."""
_GRAIN = 0.2
"""Lines of text that begin within this (points) of one another begin at the same margin."""
Words = tuple[tuple[str, ...], tuple[str, ...]]


@dataclass(frozen=True, eq=False)
class _Look:
    """What a page says, line after line, with the words of its foot in no order; and a row for each shape drawn."""

    words: Words
    shapes: npt.NDArray[np.float64]

    def like(self, other: "_Look") -> bool:
        """Whether both look the same."""
        return self.shapes.shape == other.shapes.shape and np.allclose(self.shapes, other.shapes, rtol=0, atol=_SAME)


def other_pages(old: bytes, new: bytes, without: tuple[str, str] = ("", "")) -> tuple[int, ...]:
    """The numbers (from 1) of the pages of `new` that are like no page of `old`; each page of it counts once.

    `without` is a phrase of the old and one of the new that say the same, such as the two versions. Raises NoMaster.
    """
    before: defaultdict[Words, list[_Look]] = defaultdict(list)
    for look in _looks(old, without[0]):
        before[look.words].append(look)
    found = []
    for number, look in enumerate(_looks(new, without[1]), start=1):
        same = next((place for place, one in enumerate(before[look.words]) if look.like(one)), None)
        if same is None:
            found.append(number)
        else:
            del before[look.words][same]
    return tuple(found)


def _looks(pdf: bytes, without: str) -> Iterator[_Look]:
    try:
        document = pypdfium2.PdfDocument(pdf)
    except pypdfium2.PdfiumError:
        raise NoMaster("it is not a PDF that can be read") from None
    try:
        for number, page in enumerate(document, start=1):
            text = page.get_textpage()
            yield _Look(_words(text.get_text_range(), number, without), _shapes(page))
            text.close()
            page.close()
    except pypdfium2.PdfiumError:
        raise NoMaster("one of its pages cannot be read") from None
    finally:
        document.close()


def _words(said: str, number: int, without: str) -> Words:
    """The lines of a page without the phrase; in its foot, the number of the page is left out as well."""
    if without:
        said = re.sub(rf"\b{re.escape(without)}(?![.\w])", "", said)
    *lines, foot = said.split("\r\n")
    words = foot.split()
    if str(number) in words:
        words.remove(str(number))
    return tuple(lines), tuple(sorted(words))


def _shapes(page: Any) -> npt.NDArray[np.float64]:
    """A row for each shape and picture of a page, in the order they are drawn: what it is, its colour, its box.

    Across the page they are measured from where most lines of text begin.
    """
    rows: list[tuple[float, ...]] = []
    begins: list[float] = []
    for item in page.get_objects(max_depth=_DEEPEST):
        left, bottom, right, top = item.get_bounds()
        if item.type == pdfium.FPDF_PAGEOBJ_TEXT:
            begins += filter(math.isfinite, (item.get_matrix().e,))
            continue
        count = pdfium.FPDFPath_CountSegments(item) if item.type == pdfium.FPDF_PAGEOBJ_PATH else 0
        rows.append((item.type, item.level, count, *_colour(item), bottom, top, right - left, left))
    found = np.array(rows, dtype=np.float64).reshape(len(rows), 11)
    across = found[:, -1]
    bleeding = (across <= _EDGE) | (across + found[:, -2] >= page.get_width() - _EDGE)
    free = (found[:, 1] == 0) & ~bleeding
    across[free] -= _margin(begins)
    across[bleeding] = 0
    return found


def _margin(begins: list[float]) -> float:
    """Where most lines of text begin; of several such places the first one drawn, since the foot comes last."""
    counts = Counter(round(begin / _GRAIN) for begin in begins)
    most = max(counts.values(), default=0)
    return next((begin for begin in begins if counts[round(begin / _GRAIN)] == most), 0.0)


def _colour(item: Any) -> tuple[int, ...]:
    parts = [ctypes.c_uint() for _ in range(4)]
    pdfium.FPDFPageObj_GetFillColor(item, *(ctypes.byref(part) for part in parts))
    return tuple(part.value for part in parts)
