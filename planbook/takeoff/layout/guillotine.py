"""Puts parts on sheets so that full-width cuts take them apart: one pass (the search is elsewhere).

Sizes hold one kerf on their far sides, and so does a sheet: then no kerf has to be thought of here.
Every part goes in a corner of a free rectangle, which a full-width cut then splits in two; free rectangles
never grow together again, so a layout made here can always be sawn.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

Rect = tuple[int, int, int, int]
"""x, y, width, height."""

Spot = tuple[int, int, int, int, int]
"""The number of the part, and the rectangle it takes."""


@dataclass(frozen=True, slots=True)
class Item:
    """One part to place: its number, width and height with kerf, and whether it may be turned."""

    number: int
    width: int
    height: int
    turn: bool

    @property
    def area(self) -> int:
        """Width times height, kerf and all."""
        return self.width * self.height


@dataclass(slots=True)
class Pile:
    """A sheet being filled: which stock it is, its free rectangles and the parts on it."""

    stock: int
    free: list[Rect]
    spots: list[Spot]
    area: int


@dataclass(frozen=True, slots=True)
class Rule:
    """How one pass chooses: `fit` the free rectangle (0 least short side over, 1 least area over,
    2 least long side over, 3 lowest corner), `split` the cut (0 short side over, 1 long side over,
    2 one large rest, 3 two even rests, 4 by chance); `least` is the smallest side worth keeping free."""

    fit: int
    split: int
    least: int


def put(pile: Pile, item: Item, rule: Rule, rnd: Random) -> bool:
    """Place one part on a pile where it fits best; False if there is no room."""
    found = best_spot(pile.free, item, rule.fit)
    if found is None:
        return False
    _, index, turned = found
    take(pile, item, index, turned, rule, rnd)
    return True


def best_spot(free: Sequence[Rect], item: Item, fit: int) -> tuple[int, int, bool] | None:
    """The score (less is better), the free rectangle and whether the part is turned, where it fits best."""
    best, at, turned = -1, -1, False
    width, height = item.width, item.height
    for way in (False, True) if item.turn and width != height else (False,):
        if way:
            width, height = height, width
        for index, (x, y, across, along) in enumerate(free):
            if across >= width and along >= height:
                over, above = across - width, along - height
                if fit == 0:
                    score = over if over < above else above
                elif fit == 1:
                    score = across * along
                elif fit == 2:
                    score = above if over < above else over
                else:
                    score = x + y
                if best < 0 or score < best:
                    best, at, turned = score, index, way
    return None if best < 0 else (best, at, turned)


def take(pile: Pile, item: Item, index: int, turned: bool, rule: Rule, rnd: Random) -> None:
    """Put a part in the corner of a free rectangle and split what is left."""
    x, y, across, along = pile.free.pop(index)
    width, height = (item.height, item.width) if turned else (item.width, item.height)
    over, above = across - width, along - height
    pile.spots.append((item.number, x, y, width, height))
    pile.area += width * height
    if rule.split == 0:
        upright = over >= above
    elif rule.split == 1:
        upright = over < above
    elif rule.split == 2:
        upright = over * along > above * across
    elif rule.split == 3:
        upright = over * along <= above * across
    else:
        upright = rnd.random() < 0.5
    least = rule.least
    if over >= least:
        pile.free.append((x + width, y, over, along if upright else height))
    if above >= least:
        pile.free.append((x, y + height, width if upright else across, above))
