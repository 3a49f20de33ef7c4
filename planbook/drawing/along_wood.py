"""Lines to cut kept to their wood: what hangs in the air beside it, and crumbs of lines, are left out."""

import math
from collections.abc import Sequence
from itertools import pairwise

from planbook.drawing.marks import Point, Ring
from planbook.drawing.paper import divided
from planbook.solids.hatch import clearances
from planbook.solids.visible import Polygon2

STEP = 0.25
"""How closely a line is looked at, mm on paper."""
SLACK = (1.3, 0.3)
"""A line lies about half a cut from its wood, all along; what is further than so many times that, and so many mm of
paper, is beside it."""
SHORT = 2.5
"""A stretch shorter than this, mm on paper, tells nothing where there is a longer one."""


def along_wood(lines: Sequence[Ring], wood: Sequence[Polygon2], most: float) -> list[Ring]:
    """The stretches of lines that run along wood; all is mm on paper.

    None of it is further than `most` from the wood. Where nothing is that near, the lines stay as they are.
    """
    fine = [divided(line, STEP) for line in lines]
    far = clearances(wood, (), [point for line in fine for point in line])
    usual = sorted(far)[len(far) // 4] if far else math.inf
    if usual >= most:
        return [*lines]
    limit = min(most, SLACK[0] * usual + SLACK[1])
    rooms = iter(far)
    return [run for line in fine for run in _runs(line, [next(rooms) <= limit for _ in line])]


def without_crumbs(lines: Sequence[Ring]) -> list[Ring]:
    """The lines that are long enough to be understood; all of them where none is."""
    return [line for line in lines if _length(line) >= SHORT] or [line for line in lines if len(line) > 1]


def _runs(line: Ring, near: Sequence[bool]) -> list[Ring]:
    runs: list[list[Point]] = [[]]
    for point, here in zip(line, near, strict=True):
        if here:
            runs[-1].append(point)
        elif runs[-1]:
            runs.append([])
    return [tuple(run) for run in runs if len(run) > 1]


def _length(line: Ring) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(line))
