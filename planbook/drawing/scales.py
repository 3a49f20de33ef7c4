"""At which scale the pictures of the steps are drawn, so that sizes seldom change on the way; draws nothing."""

import math
from collections.abc import Sequence

LONGEST = 12
"""More pictures than this in a row are not weighed together; two rows may still have one scale."""
WITHIN = math.log(1.5)
"""Nothing is drawn smaller than this for the sake of its neighbours (as a natural logarithm)."""
STEP = 0.25
"""A change of scale costs as much as drawing one picture smaller by this share (as a natural logarithm),"""
HEIGHT = 0.6
"""and so much more for each unit of the logarithm by which it changes."""
STRANGE = 0.5
"""Where the next picture shows other pieces, a change costs this share of it."""
ROUND = math.log(1.03)
"""Between the scales that rows of several pictures may have."""
EVEN = 0.02
"""Scales nearer than this are one scale."""


def shared_scales(own: Sequence[float | None], strange: Sequence[bool] = ()) -> tuple[float | None, ...]:
    """From the scale that each picture would choose: rows of neighbours share one, the smallest of theirs.

    So every picture still has room. Rows are chosen so that as little size is lost, and as few changes are seen, as can
    be. `strange` tells of each picture whether it shows other pieces than the one before. None (no picture) stays None.
    """
    places = [n for n, value in enumerate(own) if value]
    logs = [math.log(own[n] or 1.0) for n in places]
    breaks = [STRANGE if strange and strange[n] else 1.0 for n in places]
    shared: list[float | None] = [None] * len(own)
    for first, last in _rows(logs, breaks):
        least = min(own[n] or 0.0 for n in places[first:last])
        for n in places[first:last]:
            shared[n] = least if last - first == 1 else _rounded(least)
    return tuple(shared)


def _rounded(scale: float) -> float:
    """The scale or a little less, so that a row is seldom drawn anew when one of its pictures takes up more room."""
    return scale if scale <= 0 else math.exp(math.floor(math.log(scale) / ROUND + 1e-9) * ROUND)


def _rows(logs: Sequence[float], breaks: Sequence[float]) -> list[tuple[int, int]]:
    """The rows of the least cost, first and last (exclusive) place of each, by a table of the best up to each row."""
    best: dict[tuple[int, int], tuple[float, int]] = {}
    """For each row: the cost of all up to its end, and where the row before it begins (-1: there is none)."""
    for last in range(1, len(logs) + 1):
        for first in range(max(0, last - LONGEST), last):
            row = logs[first:last]
            if max(row) - min(row) > WITHIN:
                continue
            lost = sum(row) - len(row) * min(row)
            before = [
                (best[start, first][0] + _change(logs[start:first], row, breaks[first]), start)
                for start in range(max(0, first - LONGEST), first)
                if (start, first) in best
            ]
            cost, start = min(before, default=(0.0, -1))
            best[first, last] = (cost + lost, start)
    rows: list[tuple[int, int]] = []
    last = len(logs)
    ends = [(best[k, last][0], k) for k in range(max(0, last - LONGEST), last) if (k, last) in best]
    _, first = min(ends, default=(0.0, -1))
    while first >= 0:
        rows.append((first, last))
        first, last = best[first, last][1], first
    return rows[::-1]


def _change(one: Sequence[float], two: Sequence[float], weight: float) -> float:
    """What it costs a reader that one row is followed by another."""
    by = abs(min(one) - min(two))
    return weight * (STEP + HEIGHT * by) if by > EVEN else 0.0
