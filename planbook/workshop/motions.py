"""How near a moving piece comes to the others along its way, where, and which one it would touch first."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, sqrt

from planbook.solids import Solid, Vec3
from planbook.solids.nearest import meeting_point

SEARCH = 50.0
"""Gaps beyond this are not told apart, mm."""
STRIDE = 12.0
"""How far (mm) any corner of the moving piece travels at most between two looks, before the narrowest is looked at."""
FEWEST, MOST = 6, 120
"""Parts into which a way is divided, however short or long."""
FINER = 6
"""Times that the neighbourhood of the narrowest place is narrowed down, each time to 0.38 of it or less."""
FLAT = 1e-6
"""Positions that differ by less than this (mm) in their gap are as narrow as one another."""
MARGIN = 0.05
"""Gaps that are wider than the least one by more than this (mm) are not told apart."""
GOLDEN = (3 - sqrt(5)) / 2


@dataclass(frozen=True, slots=True)
class Narrowest:
    """The least gap in mm (negative where wood is in wood), at which share of the way, where, to which obstacle."""

    gap: float
    share: float
    where: Vec3 | None
    touches: str


@dataclass(frozen=True)
class Obstacle:
    """A solid that stands still, with its name."""

    name: str
    solid: Solid


def narrowest(
    at: Callable[[float], Solid],
    others: Sequence[Obstacle],
    travel: float,
    start: float = 0.0,
    pointed: bool = True,
) -> Narrowest:
    """The narrowest place of a motion: `at(share)` is the moving solid after a share of its way, from `start` to 1.

    `travel` is how far (mm) its farthest corner goes. A pass over equal parts of the way finds the narrowest one; a
    golden-section search finds its narrowest place. `pointed` asks for the point as well, and for all the looks: where
    it is not asked for, the pieces have been looked at before and are now some tenths of a millimetre otherwise, so
    that every second look will do. Once a gap is known, little is searched for farther off than that.
    """
    found: dict[float, tuple[float, str]] = {}

    def look(share: float) -> float:
        reach = min((max(gap, 0.0) + MARGIN for gap, _ in found.values()), default=SEARCH)
        found[share] = _nearest(at(share), others, reach)
        return found[share][0]

    fewer = 1 if pointed else 2
    parts = min(max(FEWEST // fewer, ceil(travel / (STRIDE * fewer))), MOST)
    shares = [start + (1 - start) * i / parts for i in range(parts + 1)]
    for share in shares:
        look(share)
    least = min(gap for gap, _ in found.values())
    if least > 0:
        _look_closely(look, shares, found)
    share = min(found, key=lambda each: (round(found[each][0], 7), each))
    gap, name = found[share]
    nearest = next((other for other in others if other.name == name), None)
    where = meeting_point(at(share), nearest.solid, gap) if pointed and nearest and gap < SEARCH else None
    return Narrowest(gap, share, where, name)


def _look_closely(
    look: Callable[[float], float], shares: Sequence[float], found: dict[float, tuple[float, str]]
) -> None:
    """Golden section between the neighbours of the narrowest position, unless the way is as narrow on both sides."""
    best = min(range(len(shares)), key=lambda i: round(found[shares[i]][0], 7))
    low, high = shares[max(best - 1, 0)], shares[min(best + 1, len(shares) - 1)]
    if all(found[share][0] - found[shares[best]][0] < FLAT for share in (low, high)):
        return
    inner = low + GOLDEN * (high - low), high - GOLDEN * (high - low)
    gaps = look(inner[0]), look(inner[1])
    for _ in range(FINER):
        if abs(gaps[0] - gaps[1]) < FLAT and abs(gaps[0] - found[shares[best]][0]) < FLAT:
            return
        if gaps[0] <= gaps[1]:
            high, inner, gaps = inner[1], (low + GOLDEN * (inner[1] - low), inner[0]), (0.0, gaps[0])
            gaps = look(inner[0]), gaps[1]
        else:
            low, inner, gaps = inner[0], (inner[1], high - GOLDEN * (high - inner[0])), (gaps[1], 0.0)
            gaps = gaps[0], look(inner[1])


def _nearest(mover: Solid, others: Sequence[Obstacle], reach: float) -> tuple[float, str]:
    """The least gap that is smaller than `reach`, and the obstacle there; `reach` itself where there is none."""
    best, name = max(reach, 0.0), ""
    for other in others:
        if _boxes_apart(mover, other.solid) > best:
            continue
        gap = clearance(mover, other.solid, best)
        if gap < best:
            best, name = gap, other.name
    return best, name


def _boxes_apart(a: Solid, b: Solid) -> float:
    (alo, ahi), (blo, bhi) = a.bounds, b.bounds
    return sqrt(sum(max(bl - ah, al - bh, 0.0) ** 2 for al, ah, bl, bh in zip(alo, ahi, blo, bhi, strict=True)))


def clearance(a: Solid, b: Solid, most: float = SEARCH) -> float:
    """The gap between two solids in mm, up to `most`; negative (by how thick the overlap is) where they overlap."""
    gap = most
    for reach in (2.0, 10.0, SEARCH):
        gap = a.gap(b, min(reach, most) + FLAT)
        if gap < reach or reach >= most:
            break
    if gap > 0:
        return min(gap, most)
    shared = a.meet(b)
    return -min(shared.extent) if shared.volume > 1e-3 else 0.0
