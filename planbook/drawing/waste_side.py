"""Ticks on the side of a line where the wood goes that is taken down to it, as on stencils."""

from collections.abc import Sequence
from itertools import pairwise
from math import dist, floor

from planbook.drawing.ink import CUT, PAPER, Ink, accent
from planbook.drawing.marks import Mark, Pen, Point, Ring, Stroke
from planbook.workshop.timeline import WASTE_LEFT, WASTE_RIGHT

LAYER = "waste side"
LONG, LEAN = 1.5, 0.6
"""How far a tick reaches across its line and along it, mm on paper: they read as a fringe, not as a scale."""
APART = 3.2
"""How far ticks are apart, mm on paper."""
SIDES = {WASTE_RIGHT: 1.0, WASTE_LEFT: -1.0}


def ticked(lines: Sequence[tuple[Ring, bool]], text: str, ink: Ink) -> tuple[Mark, ...]:
    """The ticks of lines on paper (closed where so said) whose text tells a waste side; none for any other."""
    sign = SIDES.get(text)
    if sign is None:
        return ()
    runs = [(*line, line[0]) if closed else line for line, closed in lines]
    return bedded_ticks([tick for run in runs for tick in _ticks(run, sign)], ink)


def bedded_ticks(ticks: Sequence[Ring], ink: Ink) -> tuple[Mark, ...]:
    """Ticks on white beds, so that they show on dark woods too."""
    pens = (Pen(0.6, PAPER), Pen(0.3, accent(CUT, ink)))
    return tuple(Stroke(tick, pen, LAYER) for pen in pens for tick in ticks)


def _ticks(run: Ring, sign: float) -> list[Ring]:
    """One in the middle of each of equal stretches; v grows downward, so right of the way on is clockwise."""
    whole = sum(dist(a, b) for a, b in pairwise(run))
    count = max(1, floor(whole / APART))
    return [_tick(*_at(run, (k + 0.5) * whole / count), sign) for k in range(count)]


def _tick(spot: Point, way: Point, sign: float) -> Ring:
    (x, y), (dx, dy) = spot, way
    return (spot, (x - sign * LONG * dy + LEAN * dx, y + sign * LONG * dx + LEAN * dy))


def _at(run: Ring, far: float) -> tuple[Point, Point]:
    """The point so far along a line, and the direction there."""
    for a, b in pairwise(run):
        long = dist(a, b)
        if long > 0 and far <= long + 1e-9:
            way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
            return (a[0] + far * way[0], a[1] + far * way[1]), way
        far -= long
    return run[-1], (0.0, 0.0)
