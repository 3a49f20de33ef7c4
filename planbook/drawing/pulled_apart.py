"""How the pieces of an object are pulled apart: each along the axis on which it comes free; draws nothing."""

import math
from collections.abc import Sequence
from functools import lru_cache

from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import negated, plus, times

WAYS: tuple[Vec3, ...] = (
    AXES["z"],
    negated(AXES["y"]),
    AXES["x"],
    negated(AXES["x"]),
    AXES["y"],
    negated(AXES["z"]),
)
"""Up, to the front, right, left, to the back, down: the way that shows best is tried first."""

STOPS = 6
"""At how many places on its way out a piece is tried for room."""
TOUCH = 1e-3
"""Share of a piece's volume that may overlap another on the way and still count as sliding past it."""
GAP = 0.1
"""Air between pieces pulled apart, as a share of the largest side of the object."""


def spread(solids: Sequence[Solid]) -> tuple[Vec3, ...]:
    """How far to move each solid, mm, so that they lie apart in the order in which they could be taken apart."""
    if not solids:
        return ()
    gap = max(6.0, GAP * max(side for solid in solids for side in solid.extent))
    moves: dict[int, Vec3] = {}
    for n, way in reversed(_taken_apart(solids)):
        moves[n] = times(way, _far(solids, n, way, moves, gap)) if moves else (0.0, 0.0, 0.0)
    return tuple(moves[n] for n in range(len(solids)))


def _taken_apart(solids: Sequence[Solid]) -> list[tuple[int, Vec3]]:
    """The order in which solids come free, smallest first, and the way each goes; what is locked goes up."""
    left = list(range(len(solids)))
    order: list[tuple[int, Vec3]] = []
    while left:
        by_size = sorted(left, key=lambda n: (round(solids[n].volume, 3), n))
        found = next(((n, way) for n in by_size if (way := _way_out(solids, n, left)) is not None), None)
        order.append(found or (by_size[0], WAYS[0]))
        left.remove(order[-1][0])
    return order


def _way_out(solids: Sequence[Solid], n: int, left: Sequence[int]) -> Vec3 | None:
    """The shortest free way out for a solid, or None."""
    others = [solids[k] for k in left if k != n]
    if not others:
        return WAYS[0]
    ways = sorted(WAYS, key=lambda way: round(_exit(solids[n], others, way), 3))
    return next((way for way in ways if _free(solids[n], others, way)), None)


def _exit(solid: Solid, others: Sequence[Solid], way: Vec3) -> float:
    """How far a solid must go to be past all others, mm."""
    return max(other.reach(way) for other in others) + solid.reach(negated(way))


def _free(solid: Solid, others: Sequence[Solid], way: Vec3) -> bool:
    far = max(_exit(solid, others, way), 0.0)
    stops = (times(way, far * stop / STOPS) for stop in range(1, STOPS + 1))
    return not any(_in_the_way(solid, other, by) for by in stops for other in others)


@lru_cache(maxsize=512)
def _in_the_way(solid: Solid, other: Solid, by: Vec3) -> bool:
    """Whether a solid that was moved overlaps another; seldom needed, for boxes hold more than what is in them."""
    least = TOUCH * min(solid.volume, other.volume)
    (low, high), (below, above) = solid.bounds, other.bounds
    low, high = plus(low, by), plus(high, by)
    common = [max(0.0, min(high[a], above[a]) - max(low[a], below[a])) for a in range(3)]
    return math.prod(common) > least and solid.moved(by).meet(other).volume > least


def _far(solids: Sequence[Solid], n: int, way: Vec3, moves: dict[int, Vec3], gap: float) -> float:
    """How far a solid goes so that it lies a gap beyond everything already laid out in its way."""
    axis = next(k for k in range(3) if way[k])
    own = solids[n].bounds
    far = gap
    for k, move in moves.items():
        low, high = (plus(corner, move) for corner in solids[k].bounds)
        across = all(low[a] < own[1][a] and own[0][a] < high[a] for a in range(3) if a != axis)
        ahead = high[axis] - own[0][axis] if way[axis] > 0 else own[1][axis] - low[axis]
        if across and ahead > 0:
            far = max(far, ahead + gap)
    return far
