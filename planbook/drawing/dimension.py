"""One dimension on paper: its line beside an edge, the lines that lead to it, its number, and its marks."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from planbook.drawing.ink import LINE, PAPER
from planbook.drawing.lettering import RISE, width_of
from planbook.drawing.marks import Fill, Mark, Pen, Point, Stroke, Words
from planbook.drawing.wedge import ahead, turned
from planbook.solids.hatch import clearances, inside
from planbook.solids.visible import Polygon2

OFF = 2.4
"""From the edge of the piece to the dimension line, mm on paper."""
LONGEST = 14.0
"""No longer is the line that leads from a hole to its dimension, mm on paper."""
FREE = 1.0
"""A dimension line of a hole is nowhere nearer than this to what is drawn, mm on paper."""
BEFORE = 1.0
"""Between the mouth of a hole and the line that leads to its dimension, mm on paper."""
SIZE = 2.4
"""Type size of the number, mm."""
THIN = Pen(0.18, LINE)
HEAD = (1.8, 0.35)
"""Length and half width of an arrow head, mm."""
CROSSED = 0.5
"""A leader this near to the dimension line, mm, crosses it or seems to."""
WIDEST = "88 88/88 in"
HALF = width_of(WIDEST, SIZE) / 2
"""Half the width of the widest number, mm."""
CHAIN = Pen(0.18, LINE, (1.6, 0.5, 0.3, 0.5))
"""The line in the middle of a face (ISO 128: long dash, dot)."""
SHARED = 0.6
"""Dimensions in a row share the line between them: their own come no nearer than this to it, mm, but for its ends."""


@dataclass(frozen=True, slots=True)
class Line:
    """A dimension line beside an edge, `off` mm from it: both on paper, mm; `out` points away from the piece.

    The `lead` goes from the mouth of a hole over its face, and down the next one, to the end of the edge. The `spine`
    is the line in the middle of its face, where the distance is measured from that. One that is `free` has nothing of
    the drawing under its lines. The number stands `slide` mm further on along it than in the middle.
    """

    edge: tuple[Point, Point]
    along: Point
    out: Point
    off: float = OFF
    lead: tuple[Point, ...] = ()
    spine: tuple[Point, ...] = ()
    free: bool = False
    slide: float = 0.0

    @property
    def long(self) -> float:
        """The length of the lead, mm."""
        return sum(math.dist(one, two) for one, two in pairwise(self.lead))

    def _at(self, end: int, far: float) -> Point:
        x, y = self.edge[end]
        return (x + far * self.out[0], y + far * self.out[1])

    @property
    def text(self) -> Point:
        """Where the middle of the number stands."""
        one, two = self._at(0, self.off + 0.85 * SIZE), self._at(1, self.off + 0.85 * SIZE)
        return ahead(((one[0] + two[0]) / 2, (one[1] + two[1]) / 2), self.along, self.slide)

    @property
    def angle(self) -> float:
        """The number is read along the line, from below or from the right (degrees, clockwise)."""
        angle = math.degrees(math.atan2(self.along[1], self.along[0]))
        return angle - 180.0 if angle >= 89.9 else angle + 180.0 if angle < -90.1 else angle

    @property
    def tips(self) -> tuple[Point, Point]:
        """Where the dimension line begins and ends."""
        return self._at(0, self.off), self._at(1, self.off)

    @property
    def stretch(self) -> list[Point]:
        """Places along the dimension line, closer to one another than twice `CROSSED`."""
        one, two = self.tips
        count = max(2, math.ceil(math.dist(one, two) / CROSSED))
        return [*(ahead(one, self.along, math.dist(one, two) * k / count) for k in range(count + 1)), *self.led]

    @property
    def outward(self) -> list[Point]:
        """Places along the two lines that go out from the edge."""
        return [ahead(self._at(k, 0.0), self.out, far) for k in (0, 1) for far in np.arange(FREE, self.off, CROSSED)]

    @property
    def tails(self) -> list[Point]:
        """Places along what goes on beyond the arrow heads where these stand outside."""
        one, two = self.tips
        if math.dist(one, two) >= 3 * HEAD[0]:
            return []
        fars = [2 * HEAD[0] * k / 8 for k in range(1, 9)]
        return [ahead(tip, self.along, sign * far) for tip, sign in ((one, -1.0), (two, 1.0)) for far in fars]

    @property
    def between(self) -> list[Point]:
        """The same but for the very ends, which a dimension may share with the next one, and for those of the lead."""
        ends = (*self.tips, *self.lead[-1:])
        return [p for p in self.stretch if all(math.dist(p, end) > SHARED + CROSSED for end in ends)] or [self.text]

    @property
    def led(self) -> list[Point]:
        """Places along the lead, but for the mouth of the hole."""
        count = max(2, math.ceil(self.long / CROSSED))
        sides = [(one, two) for one, two in pairwise(self.lead) if math.dist(one, two) > 1e-6]
        return [
            ahead(one, (two[0] - one[0], two[1] - one[1]), k / count) for one, two in sides for k in range(1, count + 1)
        ]

    def astray(self, polygons: Sequence[Polygon2]) -> bool:
        """Whether one that is free lies on what is drawn; or that of a hole, near it, or too far from the hole."""
        if self.free:
            return any(inside(polygons, [*self.outward, *self.stretch]))
        if not self.lead:
            return False
        along = self.stretch[: -len(self.led)]
        return self.long > LONGEST or any(inside(polygons, self.outward)) or min(clearances(polygons, (), along)) < FREE

    @property
    def corners(self) -> list[Point]:
        """About the outermost points of all its marks."""
        ends = [ahead(self._at(k, self.off + 1.0), self.along, far) for k, far in ((0, -2 * HEAD[0]), (1, 2 * HEAD[0]))]
        words = [ahead(self.text, self.along, far) for far in (-HALF, HALF)]
        return [*ends, *(ahead(each, self.out, SIZE / 2 + 0.3) for each in words)]

    def marks(self, text: str) -> tuple[Mark, ...]:
        """Lines, arrow heads (outside, where there is no room between) and the number."""
        one, two = self.tips
        short = math.dist(one, two) < 3 * HEAD[0]
        # Lines that would run into a number that is wider than they are apart end before it.
        beyond = 1.0 if math.dist(one, two) > width_of(text, SIZE) + 0.8 else 0.5
        far = 2 * HEAD[0] if short else 0.0
        ends = (ahead(one, self.along, -far), ahead(two, self.along, far))
        lines: list[tuple[Point, ...]] = [*((self._at(k, 0.5), self._at(k, self.off + beyond)) for k in (0, 1)), ends]
        if self.long > BEFORE:
            lines = [tuple(self.led[round(BEFORE / CROSSED) :]), *lines]
        beds = tuple(Stroke(line, Pen(THIN.width + 0.4, PAPER), "distance bed") for line in lines)
        turn = -1.0 if short else 1.0
        heads = tuple(
            Fill((_head(tip, self.along, way * turn),), LINE, "distance") for tip, way in ((one, 1.0), (two, -1.0))
        )
        wide, turn_of = width_of(text, SIZE) / 2 + 0.4, self.angle
        across, down = turned((1.0, 0.0), turn_of), turned((0.0, 1.0), turn_of)
        corners = ((wide, 0.6), (wide, -0.6), (-wide, -0.6), (-wide, 0.6))
        bed = tuple(ahead(ahead(self.text, across, u), down, v * SIZE) for u, v in corners)
        at = ahead(self.text, down, RISE * SIZE)
        words = Words(at, text, SIZE, "middle", turn_of, layer="distance")
        strokes = tuple(Stroke(line, THIN, "distance") for line in lines)
        strokes = (*(Stroke(self.spine, CHAIN, "distance") for _ in self.spine[:1]), *strokes)
        return (*beds, *strokes, *heads, Fill((bed,), PAPER, "distance bed", 0.85), words)


def beside(one: Point, two: Point, middle: Point) -> Line:
    """The dimension line beside an edge, away from the middle of its piece."""
    size = math.dist(one, two)
    along = ((two[0] - one[0]) / size, (two[1] - one[1]) / size) if size > 1e-9 else (1.0, 0.0)
    out = (-along[1], along[0])
    away = ((one[0] + two[0]) / 2 - middle[0], (one[1] + two[1]) / 2 - middle[1])
    if out[0] * away[0] + out[1] * away[1] < 0:
        out = (-out[0], -out[1])
    return Line((one, two), along, out)


def _head(tip: Point, along: Point, sign: float) -> tuple[Point, ...]:
    """A slim arrow head whose tip is at a point; it comes from along the line."""
    back = ahead(tip, along, sign * HEAD[0])
    side = (-along[1], along[0])
    return (tip, ahead(back, side, HEAD[1]), ahead(back, side, -HEAD[1]))
