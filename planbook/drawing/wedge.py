"""The slim wedge of which arrows on pictures are made, and ways on paper; knows no sign."""

import math

from planbook.drawing.ink import PAPER, WORK, Ink, accent
from planbook.drawing.marks import Fill, Mark, Pen, Point, Ring, Stroke

ARROW = 7.0
"""Least length of an arrow, mm on paper."""


def arrow(
    tail: Point, along: Point, length: float, ink: Ink, layer: str = "push", size: float = 1.0
) -> tuple[Mark, ...]:
    """A slim wedge on a bed of paper that grows toward a plain head."""
    ring = wedge(tail, along, length, size)
    bed = Stroke(ring, Pen(0.7, PAPER), layer, closed=True)
    return (bed, Fill((ring,), accent(WORK, ink), layer))


def wedge(tail: Point, along: Point, length: float, size: float = 1.0) -> Ring:
    """The outline of an arrow, from its tail around its head and back, as broad as its `size` says."""
    side = (-along[1], along[0])
    neck = length - 2.8 * size
    outline = ((0.0, 0.2), (neck, 0.6), (neck, 1.5), (length, 0.0), (neck, -1.5), (neck, -0.6), (0.0, -0.2))
    return tuple(ahead(ahead(tail, along, far), side, size * out) for far, out in outline)


def head(ring: Ring) -> Ring:
    """Of the outline of an arrow its head, where it would be mistaken if it were crossed; other outlines whole."""
    return ring[1:6] if len(ring) == 7 else ring


def unit(one: Point, two: Point) -> Point:
    """The direction from one point to another, of length 1; along the second axis where they are the same."""
    size = math.dist(one, two)
    return ((two[0] - one[0]) / size, (two[1] - one[1]) / size) if size > 1e-9 else (0.0, 1.0)


def ahead(point: Point, along: Point, far: float) -> Point:
    """The point so far along a direction."""
    return (point[0] + along[0] * far, point[1] + along[1] * far)


def turned(way: Point, degrees: float) -> Point:
    """A way on paper, turned clockwise."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (c * way[0] - s * way[1], s * way[0] + c * way[1])
