"""Joins strokes whose ends meet into closed outlines or one open line; it knows no file format."""

import math
from collections.abc import Sequence
from dataclasses import replace

from planbook.model import Affine, LineTo, Stroke
from planbook.reader.svg_tree import Unreadable

MEETING = 0.01
"""Ends nearer than this (mm) are one point."""

Point = tuple[float, float]


def joined(strokes: Sequence[Stroke]) -> tuple[Stroke, ...]:
    """Closed outlines, or one open line, in mm. Raises Unreadable where lines fork, or do not make up one line."""
    done = [s for s in strokes if s.closed]
    loose = [s for s in strokes if not s.closed]
    if len(loose) > 1:
        _check_forks(loose)
    open_lines: list[Stroke] = []
    while loose:
        line = _chained(loose)
        (done if line.closed else open_lines).append(line)
    if open_lines and len(open_lines) + len(done) > 1:
        gap = _nearest_gap(open_lines)
        raise Unreadable(f"has a line that does not close: its ends are {gap:.3g} mm from the next ones")
    return (*done, *open_lines)


def _chained(loose: list[Stroke]) -> Stroke:
    """The first stroke with all that follow on at its ends; they are taken out of `loose`."""
    line = loose.pop(0)
    for _ in range(2):
        while not _closes(line) and (found := _following(line.end, loose)) is not None:
            at, forward = found
            after = loose.pop(at)
            line = _end_to_end(line, after if forward else after.backward())
        line = line.backward()
    return _closed(line) if _closes(line) else line


def _closes(line: Stroke) -> bool:
    return len(line.segments) > 0 and math.dist(line.start, line.end) <= MEETING and _goes_somewhere(line)


def _goes_somewhere(line: Stroke) -> bool:
    return len(line.segments) > 1 or not isinstance(line.segments[0], LineTo)


def _closed(line: Stroke) -> Stroke:
    """The line ended at its own start; moving the end by so little leaves no kink, a bridge might."""
    *others, last = line.segments
    return Stroke(line.start, (*others, replace(last, end=line.start)), True)


def _following(end: Point, loose: Sequence[Stroke]) -> tuple[int, bool] | None:
    for at, stroke in enumerate(loose):
        if math.dist(end, stroke.start) <= MEETING:
            return at, True
        if math.dist(end, stroke.end) <= MEETING:
            return at, False
    return None


def _end_to_end(first: Stroke, second: Stroke) -> Stroke:
    return Stroke(first.start, (*first.segments, *second.segments), False)


def _check_forks(loose: Sequence[Stroke]) -> None:
    """Raises Unreadable where more than two ends meet, so that nobody can say how the line goes on."""
    cells: dict[tuple[int, int], int] = {}
    for stroke in loose:
        for x, y in (stroke.start, stroke.end):
            cell = (round(x / MEETING / 2), round(y / MEETING / 2))
            cells[cell] = cells.get(cell, 0) + 1
            if cells[cell] > 2:
                raise Unreadable(f"has lines that fork near {x:.4g} mm to the right and {y:.4g} mm up")


def _nearest_gap(lines: Sequence[Stroke]) -> float:
    ends = [(at, p) for at, line in enumerate(lines) for p in (line.start, line.end)]
    gaps = [math.dist(p, q) for i, (_, p) in enumerate(ends) for _, q in ends[i + 1 :]]
    return min(gaps)


def in_mm(strokes: Sequence[Stroke], by: Affine) -> tuple[Stroke, ...]:
    """Strokes placed in mm and joined. Raises Unreadable."""
    return joined([s.placed(by) for s in strokes])
