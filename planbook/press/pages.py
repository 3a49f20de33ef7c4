"""Reads plain facts off a finished PDF: page sizes, bookmarks, title; it changes nothing."""

import io
from collections.abc import Iterable

import pikepdf

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


def _size(page: pikepdf.Page) -> tuple[float, float]:
    left, bottom, right, top = (float(edge) for edge in page.mediabox)
    return (right - left) * _MM_PER_POINT, (top - bottom) * _MM_PER_POINT


def _flat(items: Iterable[pikepdf.OutlineItem], level: int) -> Iterable[tuple[int, str]]:
    for item in items:
        yield level, item.title
        yield from _flat(item.children, level + 1)
