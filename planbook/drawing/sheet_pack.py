"""Puts rectangles on as few sheets as a simple rule finds; knows nothing of what is in them."""

from collections.abc import Sequence
from dataclasses import dataclass, field

Size = tuple[float, float]
Rect = tuple[float, float, float, float]
_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Spot:
    """Which item (by index), which of its shapes (by index), and its upper left corner, mm."""

    item: int
    shape: int
    x: float
    y: float


@dataclass
class Sheet:
    """A sheet being filled: its largest free rectangles (left, top, right, bottom) and what lies on it."""

    free: list[Rect]
    spots: list[Spot] = field(default_factory=list)


def pack(shapes: Sequence[Sequence[Size]], size: Size, gap: float) -> list[Sheet]:
    """Place every item in one of its shapes, `gap` mm apart, tallest first, on the first sheet with room.

    Shapes are tried in their order. Sheets come in the order of their lowest item; free rectangles that are
    returned end `gap` mm beyond the sheet. Raises ValueError for an item that fits no empty sheet.
    """
    sheets: list[Sheet] = []
    for item in sorted(range(len(shapes)), key=lambda i: (-shapes[i][0][1], i)):
        grown = [(width + gap, height + gap) for width, height in shapes[item]]
        if not any(_place(sheet, item, grown) for sheet in sheets):
            sheets.append(Sheet([(0.0, 0.0, size[0] + gap, size[1] + gap)]))
            if not _place(sheets[-1], item, grown):
                raise ValueError("an item is larger than the sheet")
    return sorted(sheets, key=lambda sheet: min(spot.item for spot in sheet.spots))


def _place(sheet: Sheet, item: int, grown: Sequence[Size]) -> bool:
    for shape, (width, height) in enumerate(grown):
        corners = [
            (top, left)
            for left, top, right, bottom in sheet.free
            if right - left >= width - _SLACK and bottom - top >= height - _SLACK
        ]
        if corners:
            top, left = min(corners)
            sheet.spots.append(Spot(item, shape, left, top))
            sheet.free = _without(sheet.free, (left, top, left + width, top + height))
            return True
    return False


def _without(free: Sequence[Rect], taken: Rect) -> list[Rect]:
    """The largest rectangles that are still free, none inside another."""
    left, top, right, bottom = taken
    found: list[Rect] = []
    for rect in free:
        fl, ft, fr, fb = rect
        if right <= fl + _SLACK or left >= fr - _SLACK or bottom <= ft + _SLACK or top >= fb - _SLACK:
            found.append(rect)
            continue
        parts = [(fl, ft, left, fb), (right, ft, fr, fb), (fl, ft, fr, top), (fl, bottom, fr, fb)]
        found += [p for p in parts if p[2] - p[0] > _SLACK and p[3] - p[1] > _SLACK]
    kept = list(dict.fromkeys(found))
    return [r for r in kept if not any(o != r and _holds(o, r) for o in kept)]


def _holds(outer: Rect, inner: Rect) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and outer[2] >= inner[2] and outer[3] >= inner[3]
