"""Reads plain facts off a finished PDF: page sizes, bookmarks, title; it changes nothing."""

import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import pikepdf

from planbook.press.mark import NoMaster
from planbook.speech import LANGUAGES

_MM_PER_POINT = 25.4 / 72


def page_sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of every page, mm."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return [_size(page) for page in document.pages]


def page_count(pdf: bytes) -> int:
    """How many pages there are."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return len(document.pages)


def bookmarks(pdf: bytes) -> list[tuple[int, str]]:
    """Every bookmark with its level, from 1, in the order of the outline."""
    with pikepdf.open(io.BytesIO(pdf)) as document, document.open_outline() as outline:
        return list(_flat(outline.root, 1))


def metadata(pdf: bytes) -> dict[str, str]:
    """The entries of the document's information, such as `Title` and `Author`."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return {str(key).lstrip("/"): str(value) for key, value in document.docinfo.items()}


def bookmarked_pages(pdf: bytes) -> list[tuple[str, int]]:
    """Every bookmark with the number of its page (from 1; 0 if it leads nowhere), in the order of the outline.

    Raises NoMaster.
    """
    try:
        with pikepdf.open(io.BytesIO(pdf)) as document, document.open_outline() as outline:
            numbers = {page.obj.objgen: number for number, page in enumerate(document.pages, start=1)}
            return [(item.title, _led_to(item, numbers)) for item in _items(outline.root)]
    except (pikepdf.PdfError, pikepdf.OutlineStructureError, AttributeError, KeyError, TypeError, ValueError):
        raise NoMaster("its bookmarks cannot be read") from None


def _led_to(item: pikepdf.OutlineItem, numbers: Mapping[tuple[int, int], int]) -> int:
    led = item.destination
    first = led[0] if isinstance(led, pikepdf.Array) and len(led) else None
    return numbers.get(first.objgen, 0) if isinstance(first, pikepdf.Object) else 0


def _items(items: Iterable[pikepdf.OutlineItem]) -> Iterable[pikepdf.OutlineItem]:
    for item in items:
        yield item
        yield from _items(item.children)


@dataclass(frozen=True, slots=True)
class Facts:
    """Title, language and the size (mm) of the first page of a booklet."""

    title: str
    language: str
    width: float
    height: float


def booklet_facts(pdf: bytes) -> Facts:
    """What a booklet says of itself. Raises NoMaster."""
    try:
        with pikepdf.open(io.BytesIO(pdf)) as document:
            told = str(document.Root.get("/Lang", "en"))[:2].lower()
            title = str(document.docinfo.get("/Title", "")) if "/Info" in document.trailer else ""
            return Facts(title, told if told in LANGUAGES else "en", *_size(document.pages[0]))
    except (pikepdf.PasswordError, pikepdf.PdfError, IndexError):
        raise NoMaster("it is not a PDF that can be read") from None


def _size(page: pikepdf.Page) -> tuple[float, float]:
    left, bottom, right, top = (float(edge) for edge in page.mediabox)
    return (right - left) * _MM_PER_POINT, (top - bottom) * _MM_PER_POINT


def _flat(items: Iterable[pikepdf.OutlineItem], level: int) -> Iterable[tuple[int, str]]:
    for item in items:
        yield level, item.title
        yield from _flat(item.children, level + 1)
