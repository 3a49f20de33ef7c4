"""How the pieces of an object are pulled apart: each along the axis on which it comes free; draws nothing.

What is joined stays together: first one assembly is drawn off the others, then the pieces of each off one another. So
do pieces that lock one another in one flat layer.
"""

import math
from collections.abc import Sequence
from functools import lru_cache

from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import negated, plus, times
from planbook.workshop.one_layer import drawn_apart, layers
from planbook.workshop.ways_out import overlap

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


Box = tuple[Vec3, Vec3]
"""Lower and upper corner, mm."""
STILL: Vec3 = (0.0, 0.0, 0.0)
Assembly = tuple[Solid, ...]


def spread(solids: Sequence[Solid], wholes: Sequence[str] = (), more: Sequence[float] = ()) -> tuple[Vec3, ...]:
    """How far to move each solid, mm, so that they lie apart in the order in which they could be taken apart.

    Solids of the same of `wholes` are joined to one another; without it none is. Each goes farther by `more`, but
    those of a layer, whose places to one another tell most.
    """
    if not solids:
        return ()
    gap = gap_of(solids)
    more = more or (0.0,) * len(solids)
    found: dict[int, Vec3] = {}
    groups, flat = _groups(tuple(solids), wholes)
    inner = [
        drawn_apart([solids[n] for n in group])
        if group in flat
        else _apart(tuple((solids[n],) for n in group), [[STILL]] * len(group), [gap + more[n] for n in group])
        for group in groups
    ]
    alone = [gap + (more[group[0]] if len(group) == 1 else 0.0) for group in groups]
    outer = _apart(tuple(tuple(solids[n] for n in group) for group in groups), inner, alone)
    for group, within, by in zip(groups, inner, outer, strict=True):
        found.update({n: plus(move, by) for n, move in zip(group, within, strict=True)})
    return tuple(found[n] for n in range(len(solids)))


def _groups(solids: tuple[Solid, ...], wholes: Sequence[str]) -> tuple[list[list[int]], list[list[int]]]:
    """What is drawn apart as one, by number; and those of them that are a layer of pieces which lock one another."""
    members: dict[str | int, list[int]] = {}
    for n in range(len(solids)):
        members.setdefault(wholes[n] if wholes else n, []).append(n)
    alone = [group[0] for group in members.values() if len(group) == 1]
    flat = [[alone[k] for k in layer] for layer in layers([solids[n] for n in alone])]
    flat += [group for group in members.values() if layers([solids[n] for n in group]) == [(*range(len(group)),)]]
    taken = {n for layer in flat for n in layer}
    return [*flat, *(group for group in members.values() if not taken & {*group})], flat


def gap_of(solids: Sequence[Solid]) -> float:
    """The air between pieces pulled apart, mm."""
    return max(6.0, GAP * max(side for solid in solids for side in solid.extent))


def _apart(groups: tuple[Assembly, ...], within: Sequence[Sequence[Vec3]], gaps: Sequence[float]) -> list[Vec3]:
    """How far each assembly goes, whose own solids are moved already by what stands in `within`."""
    boxes = [
        [_moved(solid.bounds, move) for solid, move in zip(group, moves, strict=True)]
        for group, moves in zip(groups, within, strict=True)
    ]
    moves: dict[int, Vec3] = {}
    for n, way in reversed(_taken_apart(groups)):
        laid = [_moved(box, move) for k, move in moves.items() for box in boxes[k]]
        moves[n] = times(way, _far(boxes[n], way, laid, gaps[n])) if laid else STILL
    return [moves[n] for n in range(len(groups))]


def _moved(box: Box, by: Vec3) -> Box:
    return (plus(box[0], by), plus(box[1], by))


@lru_cache(maxsize=32)
def _taken_apart(groups: tuple[Assembly, ...]) -> list[tuple[int, Vec3]]:
    """The order in which they come free, the shortest way out first, and the way each goes; what is locked goes up.

    So an object is peeled: what lies outside goes before what it covers, and what fills the largest box stays as long
    as anything else is free. Of equal ways the smaller one goes first.
    """
    left = list(range(len(groups)))
    order: list[tuple[int, Vec3]] = []
    while len(left) > 1:
        large = max(left, key=lambda n: (_room(groups[n]), -n))
        ways = [*_ways_out(groups, left, [n for n in left if n != large]), *_ways_out(groups, left, [large])]
        found = next(((n, way) for n, way in ways if _free(groups[n], _others(groups, left, n), way)), None)
        order.append(found or (min(left, key=lambda n: (n == large, _volume(groups[n]), n)), WAYS[0]))
        left.remove(order[-1][0])
    return [*order, (left[0], WAYS[0])]


def _others(groups: Sequence[Assembly], left: Sequence[int], n: int) -> list[Solid]:
    return [solid for k in left if k != n for solid in groups[k]]


def _ways_out(groups: Sequence[Assembly], left: Sequence[int], some: Sequence[int]) -> list[tuple[int, Vec3]]:
    """All ways of some of those that are left, the shortest way past all others first."""
    far = {(n, way): round(_exit(groups[n], _others(groups, left, n), way), 3) for n in some for way in WAYS}
    return sorted(far, key=lambda each: (far[each], _volume(groups[each[0]]), each[0], WAYS.index(each[1])))


def _volume(group: Assembly) -> float:
    return round(sum(solid.volume for solid in group), 3)


def _room(group: Assembly) -> float:
    """The room in the box around an assembly, mm3."""
    low, high = ([side(solid.bounds[k][a] for solid in group) for a in range(3)] for k, side in enumerate((min, max)))
    return round(math.prod(b - a for a, b in zip(low, high, strict=True)), 3)


def _exit(group: Assembly, others: Sequence[Solid], way: Vec3) -> float:
    """How far an assembly must go to be past all others, mm."""
    return max(other.reach(way) for other in others) + max(solid.reach(negated(way)) for solid in group)


def _free(group: Assembly, others: Sequence[Solid], way: Vec3) -> bool:
    far = max(_exit(group, others, way), 0.0)
    stops = (times(way, far * stop / STOPS) for stop in range(1, STOPS + 1))
    return not any(_in_the_way(solid, other, by) for by in stops for solid in group for other in others)


@lru_cache(maxsize=512)
def _in_the_way(solid: Solid, other: Solid, by: Vec3) -> bool:
    """Whether a solid that was moved overlaps another."""
    return overlap(solid, other, by, TOUCH * min(solid.volume, other.volume))


def _far(own: Sequence[Box], way: Vec3, laid: Sequence[Box], gap: float) -> float:
    """How far boxes go so that they lie a gap beyond everything already laid out in their way."""
    axis = next(k for k in range(3) if way[k])
    far = gap
    for (low, high), (below, above) in ((one, two) for one in own for two in laid):
        across = all(below[a] < high[a] and low[a] < above[a] for a in range(3) if a != axis)
        ahead = above[axis] - low[axis] if way[axis] > 0 else high[axis] - below[axis]
        if across and ahead > 0:
            far = max(far, ahead + gap)
    return far
