"""Arrows that stand so close that one's tail hides where the next one points; it draws none itself."""

import math
from collections.abc import Sequence

from planbook.drawing.marks import Fill, Mark, Point
from planbook.workshop.timeline import Cue, Shown

CLOSE = 6.0
"""Tips of arrows that are no farther from one another, mm on paper, are close."""
PARALLEL = 0.99
"""Cosine between arrows that point the same way."""
SAME = 0.1
"""Pieces that differ by less than this (mm) are alike."""

Ends = tuple[Point, Point]
"""Middle of the tail, and tip."""


def one_of_close(
    signs: Sequence[tuple[Mark, ...]], cues: Sequence[Cue], shown: Sequence[Shown]
) -> list[tuple[Mark, ...]]:
    """The marks of each cue, of which arrows close to one before another alike and parallel are left out.

    The one that begins least far out stands for the others: names come in from outside, and their leaders are free.
    """
    sizes = {s.piece.name: s.piece.solid.extent for s in shown}
    arrows = {n: ends for n, marks in enumerate(signs) if cues[n].kind == "push" and (ends := _ends(marks))}
    kept: list[int] = []
    for n in sorted(arrows, key=lambda n: (_out(arrows[n]), n)):
        alike = (k for k in kept if _alike(sizes.get(cues[n].piece), sizes.get(cues[k].piece)))
        if not any(_close(arrows[n], arrows[k]) for k in alike):
            kept.append(n)
    return [() if n in arrows and n not in kept else tuple(marks) for n, marks in enumerate(signs)]


def _ends(marks: Sequence[Mark]) -> Ends | None:
    """Where the arrow among marks begins and ends: its outline starts and closes at the tail, the tip is half way."""
    ring = next((mark.rings[0] for mark in marks if isinstance(mark, Fill) and mark.layer == "push"), None)
    return (_middle(ring[0], ring[-1]), ring[len(ring) // 2]) if ring else None


def _middle(one: Point, two: Point) -> Point:
    return ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)


def _way(ends: Ends) -> Point:
    (a, b), (c, d) = ends
    long = math.dist(*ends) or 1.0
    return ((c - a) / long, (d - b) / long)


def _out(ends: Ends) -> float:
    """How far back along its own way an arrow ends."""
    (x, y), (u, v) = ends[1], _way(ends)
    return round(-(x * u + y * v), 3)


def _close(one: Ends, two: Ends) -> bool:
    (a, b), (c, d) = _way(one), _way(two)
    return math.dist(one[1], two[1]) <= CLOSE and a * c + b * d > PARALLEL


def _alike(one: Sequence[float] | None, two: Sequence[float] | None) -> bool:
    return one is not None and two is not None and all(abs(a - b) < SAME for a, b in zip(one, two, strict=True))
