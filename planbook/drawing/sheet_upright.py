"""Upright bars for a stencil sheet on which the check squares have no room: they show its stretch along the paper."""

from collections.abc import Sequence

from planbook.drawing.marks import Mark, Point, Stroke, Words
from planbook.drawing.sheet_check import BAR_IN, BAR_MM
from planbook.drawing.stencil_pens import CHECK, THIN
from planbook.drawing.stencil_room import find_room, rectangle
from planbook.solids import Area

_SHARES = (1.0, 0.5)
"""Lengths that are tried, as shares of 100 mm and 4 in."""
_WIDE, _HALF = 7.8, 0.5
"""Room that the two bars take across, and half of what is between them, mm."""
_TICK, _END, _FIGURES = 1.5, 3.4, 2.2


def upright_bars(places: Sequence[Area], near: Point) -> tuple[Mark, ...]:
    """The longest bars in the first of some places that has room, as near to a point as it has; none without room."""
    for share in _SHARES:
        shape = rectangle((0, 0), _WIDE + 1.0, share * BAR_IN + 1.0)
        for place in places:
            spot = find_room(place, shape, near)
            if spot is not None:
                return _bars((spot[0], spot[1] + share * BAR_IN / 2), share)
    return ()


def _bars(low: Point, share: float) -> tuple[Mark, ...]:
    """A millimetre bar and an inch bar side by side, upward from a common end."""
    return (
        *_bar((low[0] - _HALF, low[1]), -1.0, share * BAR_MM, 10.0, f"{share * BAR_MM:g} mm"),
        *_bar((low[0] + _HALF, low[1]), 1.0, share * BAR_IN, 25.4 / 2, f"{share * BAR_IN / 25.4:g} in"),
    )


def _bar(low: Point, way: float, length: float, step: float, said: str) -> tuple[Mark, ...]:
    """One bar with its ticks on the left (-1) or the right (1) and its length between the two at its upper end."""
    x, y = low
    marks: list[Mark] = [Stroke(((x, y), (x, y - length)), CHECK, "check")]
    for n in range(round(length / step) + 1):
        long = _END if n in (0, round(length / step)) else _TICK
        marks.append(Stroke(((x, y - n * step), (x + way * long, y - n * step)), THIN, "check"))
    base = x - 0.9 if way < 0 else x + 0.9 + 0.72 * _FIGURES
    middle = y - length + step / 2
    marks.append(Words((base, middle), said, _FIGURES, "middle", -90.0, layer="check"))
    return tuple(marks)
