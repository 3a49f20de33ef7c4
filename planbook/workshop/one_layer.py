"""Pieces that lock one another in one flat layer, and how they are drawn apart in its plane; draws nothing.

Along an axis none of them comes free but out of the layer, so what was beside what could not be told any more.
"""

from collections.abc import Sequence
from itertools import combinations

from planbook.solids import FACE_FRAMES, Area, Point2, Solid, Vec3
from planbook.solids.frames import plus, times

FEWEST = 3
"""So many pieces at least make a layer."""
FLAT = 4.0
"""A layer is so many times as long and as wide as it is thick."""
LEVEL = 1.0
"""Faces of a layer differ by no more than this, mm."""
LOCKED = 2.0
"""Boxes of pieces that lock reach into one another by more than this both ways, mm; those of boards in a row do not."""
AIR = 0.5
"""Between pieces drawn apart, as a share of their thickness: with less, one hides the side of the next."""
SHARES = tuple(0.15 + 0.05 * k for k in range(38))
"""So far each goes from the middle, as a share of how far from it it is: the first that leaves room is taken."""
_FRAMES = (FACE_FRAMES["right"], FACE_FRAMES["front"], FACE_FRAMES["top"])
"""The plane that lies across each axis."""


def layers(solids: Sequence[Solid]) -> list[tuple[int, ...]]:
    """The numbers of solids that lock one another in a layer, for each such layer."""
    found: list[tuple[int, ...]] = []
    for axis in range(3):
        left = [n for n in range(len(solids)) if not any(n in layer for layer in found)]
        found += [each for each in _linked(solids, left, axis) if _flat([solids[n] for n in each], axis)]
    return found


def drawn_apart(solids: Sequence[Solid], air: float = AIR) -> list[Vec3]:
    """How far to move each solid of one layer, mm: away from its middle, by the same share of how far it is from it.

    `air` is what is between neighbours then, in thicknesses.
    """
    axis = next(k for k in range(3) if _flat(solids, k))
    frame = _FRAMES[axis]
    shadows = [solid.shadow(frame) for solid in solids]
    ways = _ways(shadows)
    least = air * min(solid.extent[axis] for solid in solids)
    share = next((s for s in SHARES if _have_air(shadows, ways, s, least)), SHARES[-1])
    return [plus(times(frame.u, share * du), times(frame.v, share * dv)) for du, dv in ways]


def _ways(shadows: Sequence[Area]) -> list[Point2]:
    """From the middle of the box around all to the middle of each."""
    boxes = [shadow.bounds for shadow in shadows]
    u, v = ((min(b[k] for b in boxes) + max(b[k + 2] for b in boxes)) / 2 for k in (0, 1))
    return [(middle[0] - u, middle[1] - v) for middle in (shadow.centroid for shadow in shadows)]


def _have_air(shadows: Sequence[Area], ways: Sequence[Point2], share: float, air: float) -> bool:
    moved = [shadow.moved(share * du, share * dv) for shadow, (du, dv) in zip(shadows, ways, strict=True)]
    return all(
        not _near(one.bounds, other.bounds, air) or (not one.touches(other) and one.gap(other) >= air)
        for one, other in combinations(moved, 2)
    )


def _near(one: Sequence[float], other: Sequence[float], air: float) -> bool:
    """Whether boxes are so near that what is in them may be."""
    return all(one[k] < other[k + 2] + air and other[k] < one[k + 2] + air for k in (0, 1))


def _linked(solids: Sequence[Solid], numbers: Sequence[int], axis: int) -> list[tuple[int, ...]]:
    """The solids that are level along an axis and locked to one another, set by set."""
    left, found = list(numbers), []
    while left:
        linked, ahead = set[int](), [left[0]]
        while ahead:
            n = ahead.pop()
            linked.add(n)
            ahead += [k for k in left if k not in linked and k not in ahead and _locked(solids[n], solids[k], axis)]
        left = [n for n in left if n not in linked]
        found.append(tuple(sorted(linked)))
    return found


def _locked(one: Solid, other: Solid, axis: int) -> bool:
    """Whether two solids are equally thick, level, and their boxes reach into one another."""
    (low, high), (below, above) = one.bounds, other.bounds
    level = abs(low[axis] - below[axis]) < LEVEL and abs(high[axis] - above[axis]) < LEVEL
    into = (min(high[a], above[a]) - max(low[a], below[a]) for a in range(3) if a != axis)
    return level and all(far > LOCKED for far in into)


def _flat(solids: Sequence[Solid], axis: int) -> bool:
    """Whether there are enough of them, together much longer and wider than thick, and most of them lie flat."""
    lows, highs = zip(*(solid.bounds for solid in solids), strict=True)
    sides = [max(high[a] for high in highs) - min(low[a] for low in lows) for a in range(3)]
    thick = sides.pop(axis)
    lying = sum(min(far for a, far in enumerate(solid.extent) if a != axis) >= thick for solid in solids)
    return len(solids) >= FEWEST and min(sides) > FLAT * thick and 2 * lying > len(solids)
