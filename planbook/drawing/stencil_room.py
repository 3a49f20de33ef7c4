"""Finds places for words where nothing is drawn; knows boxes and areas, not what the words say."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Point, Words
from planbook.solids import Area
from planbook.solids.plane import box

CLEAR = 0.8
"""Room kept around words, mm."""
LEADING = 1.12
_UP, _DOWN = 0.76, 0.26
_STEPS = 13
_FEW = 24
"""So many places are looked at in one go; mostly one of the first has room."""


@dataclass(frozen=True, slots=True)
class Label:
    """Lines of words of one size, set one under the other, level or (`upright`) reading upwards."""

    lines: tuple[str, ...]
    size: float
    bold: bool = False
    upright: bool = False

    @property
    def length(self) -> float:
        """Length of its longest line, mm."""
        return max(width_of(line, self.size, self.bold) for line in self.lines)

    @property
    def depth(self) -> float:
        """From the highest letters of its first line to the lowest of its last, mm."""
        return self.size * (LEADING * (len(self.lines) - 1) + _UP + _DOWN)

    @property
    def width(self) -> float:
        """Width on paper, mm."""
        return self.depth if self.upright else self.length

    @property
    def height(self) -> float:
        """Height on paper, mm."""
        return self.length if self.upright else self.depth

    @property
    def shape(self) -> Area:
        """Its box with clear room around, about the origin."""
        return rectangle((0, 0), self.width + 2 * CLEAR, self.height + 2 * CLEAR)

    def words(self, middle: Point, layer: str = "words", angle: float = 0.0) -> tuple[Words, ...]:
        """The words, centred about a point; turned right by `angle` degrees from as they are set."""
        first = _UP * self.size - self.depth / 2
        downs = [first + i * LEADING * self.size for i in range(len(self.lines))]
        turn = angle - 90.0 if self.upright else angle
        across, along = -math.sin(math.radians(turn)), math.cos(math.radians(turn))
        return tuple(
            Words(
                (middle[0] + across * down, middle[1] + along * down),
                text,
                self.size,
                "middle",
                turn,
                self.bold,
                layer=layer,
            )
            for text, down in zip(self.lines, downs, strict=True)
        )


def words_box(words: Words) -> Area:
    """The box of a run of words in the booklet's type, from its highest to its lowest letters."""
    width = width_of(words.text, words.size, words.bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[words.anchor]
    flat = box(left, -_UP * words.size, width, (_UP + _DOWN) * words.size)
    return flat.turned(words.angle).moved(*words.at)


def rectangle(middle: Point, width: float, height: float, angle: float = 0.0) -> Area:
    """A rectangle about a point, turned by `angle` degrees."""
    return box(-width / 2, -height / 2, width, height).turned(angle).moved(*middle)


def find_room(free: Area, shape: Area, near: Point, within: float = math.inf) -> Point | None:
    """Where a shape drawn about the origin lies wholly in `free`, as near to a point as a grid of places has.

    Looks no further than `within` mm; None if there is no room.
    """
    return next(rooms(free, shape, near, within), None)


def rooms(free: Area, shape: Area, near: Point, within: float = math.inf) -> Iterator[Point]:
    """The same, every place of the grid, the nearest first."""
    if free.empty:
        return
    spots = sorted(_places(free, shape, near), key=lambda p: (round(math.dist(p, near), 3), p))
    spots = [spot for spot in spots if math.dist(spot, near) <= within]
    for start in range(0, len(spots), _FEW):
        some = spots[start : start + _FEW]
        yield from (spot for spot, fits in zip(some, free.takes(shape, some), strict=True) if fits)


def _places(free: Area, shape: Area, near: Point) -> list[Point]:
    """The wanted place, places close around it, and a grid over the whole of the free area."""
    left, top, right, bottom = free.bounds
    sl, st, sr, sb = shape.bounds
    x0, x1, y0, y1 = left - sl, right - sr, top - st, bottom - sb
    if x1 < x0 or y1 < y0:
        return []
    found = [near] if x0 <= near[0] <= x1 and y0 <= near[1] <= y1 else []
    reach = max(sr - sl, sb - st) * 2
    close = (
        max(x0, near[0] - reach),
        min(x1, near[0] + reach),
        max(y0, near[1] - reach),
        min(y1, near[1] + reach),
    )
    for a, b, c, d in ((x0, x1, y0, y1), close):
        if b >= a and d >= c:
            found += [
                (a + (b - a) * i / _STEPS, c + (d - c) * j / _STEPS)
                for i in range(_STEPS + 1)
                for j in range(_STEPS + 1)
            ]
    return found
