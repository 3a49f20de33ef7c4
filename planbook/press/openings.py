"""Chapters whose opening just finds no room below the end of another one: with a smaller picture it does.

A layout marks what opens a chapter and stays on one page with `data-opening="NAME"`, and the picture in it with
`data-elastic`. This reads the boxes of the printer and changes none.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from planbook.press.fullness import filled
from planbook.press.runs import ELASTIC, margin, marked, pictures

LEAST = 0.75
"""A picture is drawn no smaller than this share of its size: it fills most of the width, and its words stay legible."""
_OPENING = "data-opening"
BARE = 0.45
"""A page filled less than this is worth setting the text again; a booklet with none is not set longer for it."""
_SLACK = 4.0
"""So much more room is made than is missing, px."""
_NEAR = 1.0


def raised(document: Any) -> str:
    """A style sheet with which openings move up to the sparse page before theirs; an empty text where none can."""
    rules = []
    for before, page in pairwise(document.pages):
        share, top = filled(before), page._page_box.content_box_y()
        if share is None or share >= BARE:
            continue
        for box, above in _openings(page._page_box):
            at_top = box.border_box_y() - top < above + _NEAR
            missing = box.border_height() + above + _SLACK - (1 - share) * before._page_box.height
            rules += [_smaller(box, missing)] if at_top else []
    return "\n".join(filter(None, rules))


def _openings(box: Any, above: float = 0.0) -> Iterator[tuple[Any, float]]:
    """The marked boxes with the space that is asked for above them, which is not kept at the head of a page."""
    element = getattr(box, "element", None)
    if element is not None and element.get(_OPENING) is not None:
        yield box, above
        return
    for child in getattr(box, "children", None) or ():
        yield from _openings(child, above + (margin(child, "top") if hasattr(child, "style") else 0.0))


def _smaller(box: Any, missing: float) -> str:
    """The rule that makes the picture of an opening so much lower, px; an empty text where it would be too small."""
    found = [picture for elastic in marked(box, ELASTIC) for picture in pictures(elastic)]
    if len(found) != 1 or not 0 < missing <= found[0].height * (1 - LEAST):
        return ""
    wide = found[0].width * (1 - missing / found[0].height)
    return f'[{_OPENING}="{box.element.get(_OPENING)}"] [{ELASTIC}] img {{ width: {wide:.2f}px !important }}'
