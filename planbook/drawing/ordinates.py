"""Rows of measures along one side of a view: each place with its distance from zero, spread so that none overlap."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planbook.drawing.ink import LINE, QUIET
from planbook.drawing.marks import Mark, Pen, Point, Stroke, Words

SIZE = 2.5
"""Type size, mm."""
STEP = 3.0
"""Least distance from one row of figures to the next, mm: between their boxes, from the highest to the lowest letter,
0.4 mm are clear."""
OFF = 1.0
"""Between the view and the first line, mm."""
_BEND, _FAR = 1.9, 4.6
_PEN = Pen(0.13, QUIET)
REACH = _FAR + 1.0
"""How far the figures begin from the view, mm; their own width is to be added."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place on paper along a side (mm), and what is written there; the last one is the whole size."""

    at: float
    text: str
    whole: bool = False


def below(places: Sequence[Place], top: float) -> tuple[Mark, ...]:
    """Measures along the lower side of a view whose lower edge lies at `top`; figures are read from the right."""
    marks: list[Mark] = []
    for place, spot in zip(places, spread([p.at for p in places], STEP), strict=True):
        line = ((place.at, top + OFF), (place.at, top + _BEND), (spot, top + _FAR - 1.2), (spot, top + _FAR))
        marks.append(Stroke(line, _PEN, "measure line"))
        at = (spot + 0.36 * SIZE, top + _FAR + 0.6)
        marks.append(Words(at, place.text, SIZE, "end", -90.0, place.whole, LINE, "measure"))
    return tuple(marks)


def beside(places: Sequence[Place], right: float) -> tuple[Mark, ...]:
    """Measures along the left side of a view whose left edge lies at `right`; places count from the paper's top."""
    marks: list[Mark] = []
    for place, spot in zip(places, spread([p.at for p in places], STEP, SIZE / 2), strict=True):
        line = ((right - OFF, place.at), (right - _BEND, place.at), (right - _FAR + 1.2, spot), (right - _FAR, spot))
        marks.append(Stroke(line, _PEN, "measure line"))
        at: Point = (right - _FAR - 0.6, spot + 0.36 * SIZE)
        marks.append(Words(at, place.text, SIZE, "end", 0.0, place.whole, LINE, "measure"))
    return tuple(marks)


def spread(places: Sequence[float], step: float, least: float = -math.inf) -> list[float]:
    """Places in order moved as little as need be, so that each is at least `step` beyond the one before.

    None is moved to less than `least`.
    """
    clusters: list[list[float]] = []  # middle of the wanted places less their steps, and how many
    for number, place in enumerate(places):
        clusters.append([place - number * step, 1.0])
        while len(clusters) > 1 and clusters[-2][0] > clusters[-1][0]:
            (mean, count), (other, more) = clusters[-2], clusters[-1]
            clusters[-2:] = [[(mean * count + other * more) / (count + more), count + more]]
    starts = [mean for mean, count in clusters for _ in range(round(count))]
    return [max(start, least) + number * step for number, start in enumerate(starts)]
