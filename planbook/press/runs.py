"""Runs of blocks that each stay on one page, measured in a set document, and the style that breaks them better.

A layout marks a run with `data-even="NAME"` (each child of it is a block), a picture that may be drawn a little smaller
with `data-elastic`, and with `data-beside` what stands beside that, but may as well stand below it. This reads the
boxes of the printer and changes none.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Any

from planbook.press.evening import GROWN, LEAST, Block, Breaking, Run, evened
from planbook.press.fullness import filled

_NEAR = 0.01
_RUN, ELASTIC, _BESIDE = "data-even", "data-elastic", "data-beside"
_LINE = "80%"
"""How much of the width of the page words below a picture may take, so that their lines are not too long."""

Worth = tuple[int, float]
"""How many pages a set document has, and what is lost on them in sum."""


def better_breaks(document: Any) -> str:
    """A style sheet with which no page of a run is half empty; an empty text where there is no need of one."""
    runs: dict[str, list[tuple[int, Any]]] = defaultdict(list)
    for number, page in enumerate(document.pages):
        for box in marked(page._page_box, _RUN):
            runs[box.element.get(_RUN)] += [(number, child) for child in box.children if child.element is not None]
    return "".join(_style(name, boxes, document.pages) for name, boxes in runs.items())


def worth(document: Any) -> Worth:
    """What a set document is worth."""
    shares = (filled(page) for page in document.pages)
    return len(document.pages), sum((1 - share) ** 2 for share in shares if share is not None)


def fuller(one: Worth, two: Worth) -> bool:
    """Whether the second of two documents has no more pages and they are filled better in sum."""
    return two[0] <= one[0] and two[1] < one[1]


def _style(name: str, boxes: Sequence[tuple[int, Any]], pages: Sequence[Any]) -> str:
    elements = [box.element for _, box in boxes]
    if len(set(map(id, elements))) < len(elements) or not boxes:
        return ""  # one of them is longer than a page
    at, first = boxes[0]
    head, foot = pages[at]._page_box, pages[boxes[-1][0]]
    starts = [n for n, (number, _) in enumerate(boxes) if n == 0 or number != boxes[n - 1][0]]
    blocks = tuple(_block(box, boxes[n - 1][1] if n else None) for n, (_, box) in enumerate(boxes))
    offset = first.border_box_y() - head.content_box_y()
    found = evened(Run(blocks, offset, head.height, _followed(boxes[-1][1], foot)), starts)
    return _rules(name, found, [box for _, box in boxes]) if found else ""


def _followed(last: Any, page: Any) -> bool:
    """Whether something stands below a box on its page."""
    box = page._page_box
    end = (last.border_box_y() + last.border_height() - box.content_box_y()) / box.height
    return bool((filled(page) or 0.0) > end + _NEAR)


def _rules(name: str, found: Breaking, boxes: Sequence[Any]) -> str:
    block = f'[{_RUN}="{name}"] > :nth-child(%d)'
    rules = [f"{block % (n + 1)} {{ break-before: page; margin-top: 0 !important }}" for n in found.starts]
    for n, share in found.shares:
        for box in marked(boxes[n], ELASTIC):
            wide = max(picture.width for picture in pictures(box))
            rules.append(f"{block % (n + 1)} [{ELASTIC}] img {{ width: {wide * share:.2f}px !important }}")
    for n in found.larger:
        for box in marked(boxes[n], ELASTIC):
            (picture,) = pictures(box)
            at = block % (n + 1)
            wide = picture.width * GROWN
            rules += [
                f"{at} [{ELASTIC}] {{ float: none !important; width: auto !important }}",
                f"{at} [{ELASTIC}] img {{ width: {wide:.2f}px !important; max-width: none !important }}",
                f"{at} [{_BESIDE}] {{ margin-left: 0 !important; max-width: {_LINE} !important }}",
            ]
    return "\n".join(rules)


def _block(box: Any, before: Any) -> Block:
    above = max(margin(before, "bottom"), margin(box, "top")) if before is not None else 0.0
    for elastic in marked(box, ELASTIC):
        found = list(pictures(elastic))
        if len(found) == 1:
            (picture,) = found
            fits = picture.width * GROWN <= box.width and any(True for _ in marked(box, _BESIDE))
            grown = picture.height * GROWN if fits else 0.0
            return Block(box.border_height(), above, picture.height, _spare(box, elastic, picture.height), grown)
    return Block(box.border_height(), above)


def _spare(box: Any, elastic: Any, height: float) -> float:
    """By how much a block is lower at most with a smaller picture: something beside it may reach as far down."""
    top, low = _span(elastic)
    beside = [_span(other) for other in box.children if other is not elastic]
    ends = [end for start, end in beside if start < low - 1 and end > top]
    return max(0.0, min([height * (1 - LEAST), *(low - end for end in ends)]))


def _span(box: Any) -> tuple[float, float]:
    return box.border_box_y(), box.border_box_y() + box.border_height()


def margin(box: Any, side: str) -> float:
    """The space asked for, which is not kept at the head of a page."""
    value = box.style[f"margin_{side}"]
    return float(getattr(value, "value", 0.0) or 0.0)


def marked(box: Any, mark: str) -> Iterator[Any]:
    """The boxes of elements that have an attribute, none within another."""
    element = getattr(box, "element", None)
    if element is not None and element.get(mark) is not None:
        yield box
        return
    for child in getattr(box, "children", None) or ():
        yield from marked(child, mark)


def pictures(box: Any) -> Iterator[Any]:
    """The pictures in a box."""
    if getattr(box, "replacement", None) is not None:
        yield box
    for child in getattr(box, "children", None) or ():
        yield from pictures(child)
