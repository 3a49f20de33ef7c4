"""The marks of clamps: a block with a wedge behind it; in dashes where it is hidden."""

import math
from dataclasses import replace

from planbook.drawing.ink import PAPER, WORK, Ink, accent
from planbook.drawing.marks import Fill, Mark, Pen, Point, Ring, Stroke
from planbook.drawing.wedge import ARROW, ahead, arrow, turned, wedge

BLOCK = (4.0, 0.9)
"""Length and thickness of the block of a clamp, mm on paper."""
WEDGE = ARROW - 1.0
"""Length of the wedge behind it, mm on paper."""
UNSEEN = "hidden clamp"
"""The layer of a clamp on a face that is not seen."""
DASHES = Pen(0.3, WORK, (0.8, 0.5))
BETWEEN = "between the ends of a clamp"
"""The layer of the line that leads from an end of a clamp to the one that is not seen."""
DOTS = Pen(0.2, WORK, (0.4, 0.7))
BARE = 0.8
"""How much of what lies under a clamp in dashes is covered."""


def pressing(
    middle: Point, along: Point, half: float = BLOCK[0] / 2, turn: float = 0.0, size: float = 1.0, *, ink: Ink
) -> tuple[Mark, ...]:
    """A block that reaches `half` mm each way from its middle, with a wedge behind it; the rest has a `size`."""
    ring = block(middle, turned(along, turn), half, size * BLOCK[1])
    bed = Stroke(ring, Pen(0.7, PAPER), "clamp", closed=True)
    behind = arrow(_tail(middle, along, turn, size), along, size * WEDGE, ink, "clamp", size)
    return (bed, *behind, Fill((ring,), accent(WORK, ink), "clamp"))


def hidden(
    middle: Point, along: Point, half: float = BLOCK[0] / 2, turn: float = 0.0, size: float = 1.0, *, ink: Ink
) -> tuple[Mark, ...]:
    """The same in dashes, for one that is not seen."""
    ring = block(middle, turned(along, turn), half, size * BLOCK[1])
    rings = (wedge(_tail(middle, along, turn, size), along, size * WEDGE, size), ring)
    lines = [
        Stroke(ring, pen, UNSEEN, closed=True)
        for pen in (Pen(0.9, PAPER), replace(DASHES, colour=accent(WORK, ink)))
        for ring in rings
    ]
    return (*lines[:2], *(Fill((ring,), PAPER, UNSEEN, BARE) for ring in rings), *lines[2:])


def joined(one: Point, two: Point, ink: Ink) -> tuple[Mark, ...]:
    """The line between the ends of one clamp."""
    pens = Pen(0.5, PAPER), replace(DOTS, colour=accent(WORK, ink))
    return tuple(Stroke((one, two), pen, BETWEEN) for pen in pens)


def _tail(middle: Point, along: Point, turn: float, size: float) -> Point:
    """Where the wedge behind a block begins."""
    return ahead(middle, along, -size * (BLOCK[1] / 2 / math.cos(math.radians(turn)) + WEDGE))


def block(middle: Point, along: Point, half: float, thick: float) -> Ring:
    """The outline of a block that presses along a way."""
    side = (-along[1], along[0])
    near, far = ahead(middle, along, thick / 2), ahead(middle, along, -thick / 2)
    return tuple(ahead(end, side, k * half) for end, k in ((near, 1), (near, -1), (far, -1), (far, 1)))
