"""Finds the pages of a new booklet that say or show something else than any page of the old one; it draws nothing.

What a page looks like is told apart from where it lies: a page that only moved on, so that its number is another one
and its margins are mirrored, is the same page.
"""

import ctypes
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

from planbook.press.mark import NoMaster

_DEEPEST = 6
_FINE = 1
"""Decimals of a point to which shapes are compared: 0.1 pt is 0.035 mm."""
Shape = tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Look:
    """What a page says, line after line; the words of its foot in no order; and how often each shape is drawn."""

    said: tuple[str, ...]
    foot: tuple[str, ...]
    shapes: frozenset[tuple[Shape, int]]


def other_pages(old: bytes, new: bytes, without: tuple[str, str] = ("", "")) -> tuple[int, ...]:
    """The numbers (from 1) of the pages of `new` that are like no page of `old`; each page of it counts once.

    `without` is a phrase of the old and one of the new that say the same, such as the two versions. Raises NoMaster.
    """
    before = Counter(_looks(old, without[0]))
    found = []
    for number, look in enumerate(_looks(new, without[1]), start=1):
        if before[look]:
            before[look] -= 1
        else:
            found.append(number)
    return tuple(found)


def _looks(pdf: bytes, without: str) -> Iterator[Look]:
    try:
        document = pypdfium2.PdfDocument(pdf)
    except pypdfium2.PdfiumError:
        raise NoMaster("it is not a PDF that can be read") from None
    try:
        for number, page in enumerate(document, start=1):
            text = page.get_textpage()
            said = text.get_text_range()
            shapes = Counter(_shapes(page))
            yield Look(*_lines(said, number, without), frozenset(shapes.items()))
            text.close()
            page.close()
    finally:
        document.close()


def _lines(said: str, number: int, without: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines of a page without the phrase; in its foot, the number of the page is left out as well."""
    if without:
        said = re.sub(rf"\b{re.escape(without)}(?![.\w])", "", said)
    *lines, foot = said.split("\r\n")
    words = foot.split()
    if str(number) in words:
        words.remove(str(number))
    return tuple(lines), tuple(sorted(words))


def _shapes(page: Any) -> Iterator[Shape]:
    for item in page.get_objects(max_depth=_DEEPEST):
        if item.type == pdfium.FPDF_PAGEOBJ_TEXT:
            continue
        left, bottom, right, top = item.get_bounds()
        box = (right - left, top - bottom) if not item.level else (left, bottom, right, top)
        yield (
            item.type,
            item.level,
            max(0, pdfium.FPDFPath_CountSegments(item)) if item.type == pdfium.FPDF_PAGEOBJ_PATH else 0,
            _colour(item),
            *(round(value, _FINE) for value in box),
        )


def _colour(item: Any) -> tuple[int, ...]:
    parts = [ctypes.c_uint() for _ in range(4)]
    pdfium.FPDFPageObj_GetFillColor(item, *(ctypes.byref(part) for part in parts))
    return tuple(part.value for part in parts)
