"""Divides a board around its defects into clear rectangles, by full-width cuts (it places no parts).

Whole units; a free rectangle holds one kerf on its far sides, a defect is its real size.
"""

from collections.abc import Sequence
from random import Random

from planbook.takeoff.layout.guillotine import Rect

_WAYS = 24
_LARGEST = 10


def clear_rectangles(width: int, height: int, defects: Sequence[Rect], kerf: int) -> list[Rect]:
    """Every largest rectangle without a defect, the largest first; `width` and `height` hold one kerf."""
    near = sorted({0, *(max(0, d[0] + d[2]) for d in defects)})
    far = sorted({width, *(min(width, d[0] + kerf) for d in defects)})
    found: set[Rect] = set()
    for left in near:
        for right in far:
            if right - left > kerf:
                found.update(_gaps(left, right, height, defects, kerf))
    return sorted(found, key=lambda r: (-r[2] * r[3], r))


def _gaps(left: int, right: int, height: int, defects: Sequence[Rect], kerf: int) -> list[Rect]:
    """The clear stretches of one column, from the end of a defect to the start of the next."""
    inside = sorted((d[1], d[1] + d[3]) for d in defects if d[0] + kerf < right and d[0] + d[2] > left)
    gaps: list[Rect] = []
    low = 0
    for start, end in inside:
        if start > low and start < height - kerf:
            gaps.append((left, low, right - left, start + kerf - low))
        low = max(low, end)
    if height - kerf > low:
        gaps.append((left, low, right - left, height - low))
    return gaps


def divisions(width: int, height: int, defects: Sequence[Rect], kerf: int) -> tuple[tuple[Rect, ...], ...]:
    """Ways to divide the board: one for each of the largest clear rectangles, and some by chance."""
    if not defects:
        return (((0, 0, width, height),),)
    rnd, whole = Random(1), (0, 0, width, height)
    ways: dict[tuple[Rect, ...], None] = {}
    for clear in clear_rectangles(width, height, defects, kerf)[:_LARGEST]:
        for rip_first in (True, False):
            rests = _around(whole, clear, kerf, rip_first)
            pieces = [clear] + [piece for rest in rests for piece in _divide(rest, defects, kerf, rnd)]
            ways[tuple(pieces)] = None
    for _ in range(_WAYS):
        ways[tuple(_divide(whole, defects, kerf, rnd))] = None
    return tuple(way for way in ways if way)


def _around(whole: Rect, clear: Rect, kerf: int, rip_first: bool) -> list[Rect]:
    """What full-width cuts around a rectangle leave on its four sides (each with its kerf)."""
    x, y, w, h = clear
    _, _, wide, high = whole
    if rip_first:
        sides = [(0, 0, x, high), (x + w, 0, wide - x - w, high), (x, 0, w, y), (x, y + h, w, high - y - h)]
    else:
        sides = [(0, 0, wide, y), (0, y + h, wide, high - y - h), (0, y, x, h), (x + w, y, wide - x - w, h)]
    return [side for side in sides if side[2] > kerf and side[3] > kerf]


def _divide(area: Rect, defects: Sequence[Rect], kerf: int, rnd: Random) -> list[Rect]:
    """Cut at a side of some defect until every piece is clear or too small to hold anything."""
    todo, done = [area], []
    while todo:
        x, y, w, h = todo.pop()
        if w <= kerf or h <= kerf:
            continue
        inside = [
            d for d in defects if d[0] + kerf < x + w and d[0] + d[2] > x and d[1] + kerf < y + h and d[1] + d[3] > y
        ]
        if not inside:
            done.append((x, y, w, h))
            continue
        dx, dy, dw, dh = rnd.choice(inside)
        if rnd.random() < 0.5:
            low, high = dx + kerf, max(dx + dw, dx + kerf)
            todo += [(x, y, low - x, h), (high, y, x + w - high, h)]
            middle = (max(x, low), y, min(high, x + w) - max(x, low), h)
            parts = _split_middle(middle, dy, dh, kerf, upright=True)
        else:
            low, high = dy + kerf, max(dy + dh, dy + kerf)
            todo += [(x, y, w, low - y), (x, high, w, y + h - high)]
            middle = (x, max(y, low), w, min(high, y + h) - max(y, low))
            parts = _split_middle(middle, dx, dw, kerf, upright=False)
        todo += parts
    return sorted(done)


def _split_middle(middle: Rect, start: int, length: int, kerf: int, upright: bool) -> list[Rect]:
    """The two ends of the strip that holds the defect."""
    x, y, w, h = middle
    end = max(start + length, start + kerf)
    if upright:
        return [(x, y, w, start + kerf - y), (x, end, w, y + h - end)]
    return [(x, y, start + kerf - x, h), (end, y, x + w - end, h)]
