"""Puts rectangles on as few sheets as a simple rule finds; knows nothing of what is in them."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations, islice, permutations

Size = tuple[float, float]
Rect = tuple[float, float, float, float]
_SLACK = 1e-6
_TRIED = 120
"""So many orders are tried to lay out a sheet that it reads in order: all of five items."""


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


def pack(shapes: Sequence[Sequence[Size]], size: Size, gap: float, spare: Size = (0.0, 0.0)) -> list[Sheet]:
    """Place every item in one of its shapes, `gap` mm apart, on the first sheet with room.

    Shapes are tried in their order. Of the ways that take the fewest sheets, the one that is read most in order is
    taken, from sheet to sheet and line by line on each, then the one that leaves a free rectangle of the size `spare`
    on more of them. On a sheet they are laid out in order if that takes no such rectangle away. Sheets come in the
    order of their lowest item; free rectangles that are returned end `gap` mm beyond the sheet. Raises ValueError for
    an item that fits no empty sheet.
    """
    grown = [[(width + gap, height + gap) for width, height in ways] for ways in shapes]
    needed = (spare[0] + gap, spare[1] + gap)
    tallest = sorted(range(len(shapes)), key=lambda i: (-shapes[i][0][1], i))
    empty = _empty(size, gap)
    filled = [_filled(order, grown, empty) for order in (range(len(shapes)), tallest)]
    ways = [[_readable(sheet, grown, empty, needed) for sheet in sheets] for sheets in filled]
    ways += [_in_turn(order, grown, empty, needed) for order in (range(len(shapes)), tallest)]
    best = min(ways, key=lambda sheets: _cost(sheets, needed))
    return sorted(best, key=lambda sheet: min(spot.item for spot in sheet.spots))


def _filled(order: Iterable[int], grown: Sequence[Sequence[Size]], empty: Sheet) -> list[Sheet]:
    """Items in an order, each on the first sheet with room."""
    sheets: list[Sheet] = []
    for item in order:
        if not any(_place(sheet, item, grown[item]) for sheet in sheets):
            sheets.append(Sheet(list(empty.free)))
            if not _place(sheets[-1], item, grown[item]):
                raise ValueError("an item is larger than the sheet")
    return sheets


def _in_turn(order: Sequence[int], grown: Sequence[Sequence[Size]], empty: Sheet, spare: Size) -> list[Sheet]:
    """Each sheet filled with the next items of an order: on the fewest sheets, of which most read in order themselves.

    A sheet on which some have no room together is not tried with more.
    """
    best: list[list[Sheet] | None] = [[], *([None] * len(grown))]
    for start in range(len(grown)):
        before = best[start]
        for end in range(start + 1, len(grown) + 1):
            together = next(_layouts(order[start:end], grown, empty), None)
            if together is None or before is None:
                break
            found = [*before, _readable(together, grown, empty, spare)]
            known = best[end]
            if known is None or _cost(found, spare) < _cost(known, spare):
                best[end] = found
    return best[-1] or []


def _cost(sheets: Sequence[Sheet], spare: Size) -> tuple[int, int, int, int]:
    """What counts against a way to fill sheets, first things first."""
    astray = sum(_astray(sheet) for sheet in sheets)
    return len(sheets), _late(sheets), astray, -sum(_has_room(sheet, spare) for sheet in sheets)


def _late(sheets: Sequence[Sheet]) -> int:
    """How many pairs of items come in the wrong order, sheet by sheet."""
    ordered = sorted(([spot.item for spot in sheet.spots] for sheet in sheets), key=min)
    return sum(one > two for before, after in combinations(ordered, 2) for one in before for two in after)


def _empty(size: Size, gap: float) -> Sheet:
    return Sheet([(0.0, 0.0, size[0] + gap, size[1] + gap)])


def _readable(sheet: Sheet, grown: Sequence[Sequence[Size]], empty: Sheet, spare: Size) -> Sheet:
    """The items of a sheet laid out so that as few as can be are read before one of a lower number."""
    kept = _has_room(sheet, spare)
    best, least = sheet, _astray(sheet)
    for found in _layouts(sorted(spot.item for spot in sheet.spots), grown, empty) if least else ():
        if _astray(found) < least and (_has_room(found, spare) or not kept):
            best, least = found, _astray(found)
            if not least:
                break
    return best


def _layouts(items: Sequence[int], grown: Sequence[Sequence[Size]], empty: Sheet) -> Iterator[Sheet]:
    """Items on an empty sheet, placed in several orders, the one given first."""
    _, _, width, height = empty.free[0]
    if sum(min(w * h for w, h in grown[item]) for item in items) > width * height + _SLACK:
        return
    for order in islice(permutations(items), _TRIED):
        found = Sheet(list(empty.free))
        if all(_place(found, item, grown[item]) for item in order):
            yield found


def _astray(sheet: Sheet) -> int:
    """How many pairs of items are read in the wrong order, line by line."""
    read = sorted(sheet.spots, key=lambda spot: (round(spot.y), spot.x))
    return sum(one.item > two.item for one, two in combinations(read, 2))


def _has_room(sheet: Sheet, size: Size) -> bool:
    return any(right - left >= size[0] and bottom - top >= size[1] for left, top, right, bottom in sheet.free)


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
