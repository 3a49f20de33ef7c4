"""How full the pages of a set document are: it measures boxes and changes none."""

from collections.abc import Iterator
from typing import Any

LEAST = 0.15
"""A page of which less than this share is filled looks like a mistake of the printer."""


def sparse_pages(document: Any) -> tuple[int, ...]:
    """The numbers (from 1) of pages of which less than `LEAST` is filled, from the top of the text to its end.

    Pages without anything are meant to be blank, and pages without margins (covers, stencils) are full by nature.
    """
    shares = ((number, filled(page)) for number, page in enumerate(document.pages, start=1))
    return tuple(number for number, share in shares if share is not None and share < LEAST)


def filled(page: Any) -> float | None:
    """The share of a page's height that text and pictures reach down to; None where that tells nothing."""
    box = page._page_box
    if not (box.margin_top and box.margin_bottom) or not box.height:
        return None
    top = box.content_box_y()
    ends = [end for child in box.children if child.element_tag == "html" for end in _ends(child)]
    return max(0.0, (max(ends) - top) / box.height) if ends else None


def _ends(box: Any) -> Iterator[float]:
    """Where the words and pictures in a box end, in the units of the document."""
    if getattr(box, "text", "") or getattr(box, "replacement", None) is not None:
        yield box.position_y + box.margin_height()
    for child in getattr(box, "children", None) or ():
        yield from _ends(child)
