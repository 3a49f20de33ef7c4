"""Draws the bars by which a reader checks that the print has its true size both ways; the stencils have their own."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from planbook.drawing.marks import Mark, Picture, Stroke, Words, moved
from planbook.drawing.sheet_check import BARS_HEIGHT, BARS_WIDTH, check_bars
from planbook.speech import say

_LEFT, _TOP = 8.0, 1.0
_APART = 8.0
_NUMBER = 0.9
"""Half the height of a figure, mm."""
ALT = "Bars to measure with your own ruler, along the page and across it: of 100 millimetres and of 4 inches each."


def check_ruler() -> Picture:
    """Bars of 100 mm and of 4 in, true size, down the page and, beside their lower end, across it."""
    bars = check_bars((0.0, 0.0))
    down = moved(_stood(bars), _LEFT, _TOP)
    across = moved(bars, _LEFT + BARS_HEIGHT + _APART, _TOP)
    return Picture(_LEFT + BARS_HEIGHT + _APART + BARS_WIDTH, _TOP + BARS_WIDTH + 2.0, (*down, *across), say(ALT))


def _stood(marks: Iterable[Mark]) -> Iterator[Mark]:
    """Bars turned down the page; figures stay upright, on the outer sides of both scales."""
    for mark in marks:
        if isinstance(mark, Stroke):
            yield replace(mark, points=tuple((y, x) for x, y in mark.points))
        elif isinstance(mark, Words):
            x, y = mark.at
            inches = y > BARS_HEIGHT / 2
            at = (y - 1.9 if inches else y - 0.4, max(x, _NUMBER) + (_NUMBER if x < BARS_WIDTH - 3 else 0.0))
            yield replace(mark, at=at, anchor="start" if inches else "end")
