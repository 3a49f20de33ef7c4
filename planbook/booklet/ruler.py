"""Draws the bars by which a reader checks that the print has its true size; the stencils have their own."""

from collections.abc import Iterator

from planbook.drawing.marks import Mark, Pen, Picture, Stroke, Words

_BAR = Pen(0.25)
_FINE = Pen(0.15)
_INCH = 25.4
_TOP, _BELOW = 9.0, 21.0
_LEFT = 3.0
ALT = "Two bars to measure with your own ruler: one of 100 millimetres, one of 4 inches."


def check_ruler() -> Picture:
    """A bar of 100 mm and one of 4 in, true size, 3 mm from the left edge of the picture."""
    marks = (*_bar(_TOP, 1.0, 100, (10, 5), "mm"), *_bar(_BELOW, _INCH / 8, 32, (8, 4), "in"))
    return Picture(112.0, 27.0, tuple(marks), ALT)


def _bar(y: float, step: float, count: int, tall: tuple[int, int], unit: str) -> Iterator[Mark]:
    yield Stroke(((_LEFT, y), (_LEFT + step * count, y)), _BAR, "ruler")
    for n in range(count + 1):
        x = _LEFT + n * step
        height = 4.0 if n % tall[0] == 0 else 2.6 if n % tall[1] == 0 else 1.5
        yield Stroke(((x, y), (x, y - height)), _FINE if n % tall[0] else _BAR, "ruler")
        if n % tall[0] == 0:
            label = str(n) if unit == "mm" else str(n // tall[0])
            yield Words((x, y - 5.0), label, 2.6, "middle", layer="ruler")
    yield Words((_LEFT + step * count + 2.5, y), unit, 2.6, bold=True, layer="ruler")
