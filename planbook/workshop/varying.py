"""How one build may differ from the nominal one: kerfs, sanding, boards; it carries nothing out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

Corners = tuple[tuple[float, float, float], tuple[float, float, float]]
TOUCHING = 1e-6
"""Boards closer than this (mm) lie against one another."""


@dataclass(frozen=True, slots=True)
class Variation:
    """What is otherwise in a build: kerfs by the tool's name (mm), and allowances (mm) by what they belong to.

    `allowances` knows "sanding" (more, or less if negative, off each sanded face) and "thickness" (of boards).
    """

    kerfs: Mapping[str, float] = field(default_factory=dict)
    allowances: Mapping[str, float] = field(default_factory=dict)


NOMINAL = Variation()


def thickened(boards: Sequence[Corners], by: float) -> list[Corners]:
    """Boards (lower and upper corner, mm) that are all thicker by `by` mm and still lie against one another.

    Each grows along its shortest side. A board that touches another one is pushed along by it, and a group of
    boards that touch keeps its middle, so that nothing is said about which of its faces was planed.
    """
    shifts = [[0.0, 0.0, 0.0] for _ in boards]
    growth = [[0.0, 0.0, 0.0] for _ in boards]
    for each, (lo, hi) in enumerate(boards):
        growth[each][_thin_side(lo, hi)] = by
    for axis in range(3):
        _push_along(boards, axis, [g[axis] for g in growth], shifts)
    return [
        (_point(lo, s), _point(hi, [a + b for a, b in zip(s, g, strict=True)]))
        for (lo, hi), s, g in zip(boards, shifts, growth, strict=True)
    ]


def _point(corner: Sequence[float], by: Sequence[float]) -> tuple[float, float, float]:
    # Rounded, so that faces that touch have the same figures.
    x, y, z = (round(a + b, 9) for a, b in zip(corner, by, strict=True))
    return (x, y, z)


def _thin_side(lo: Sequence[float], hi: Sequence[float]) -> int:
    return min(range(3), key=lambda axis: hi[axis] - lo[axis])


def _push_along(boards: Sequence[Corners], axis: int, growth: list[float], shifts: list[list[float]]) -> None:
    """Shift the boards along one axis: first each by those before it, then every group back by half its growth."""
    order = sorted(range(len(boards)), key=lambda each: boards[each][0][axis])
    group = list(range(len(boards)))
    for at, each in enumerate(order):
        behind = [other for other in order[:at] if _touch(boards[other], boards[each], axis)]
        shifts[each][axis] = max((shifts[other][axis] + growth[other] for other in behind), default=0.0)
        for other in behind:
            old, new = group[each], group[other]
            group = [new if name == old else name for name in group]
    for name in set(group):
        members = [each for each in order if group[each] == name]
        last = max(members, key=lambda each: boards[each][1][axis])
        half = (shifts[last][axis] + growth[last]) / 2
        for each in members:
            shifts[each][axis] -= half


def _touch(before: Corners, after: Corners, axis: int) -> bool:
    """Whether the upper face of one board lies on the lower face of another."""
    if abs(before[1][axis] - after[0][axis]) > TOUCHING:
        return False
    return all(
        before[0][i] < after[1][i] - TOUCHING and after[0][i] < before[1][i] - TOUCHING for i in range(3) if i != axis
    )
