"""Saw cuts that do not reach the edge of the wood, and the holes that lead into them; not whether a blade fits."""

from collections.abc import Iterator
from dataclasses import dataclass

from planbook.review.bends import Sawn, sawn
from planbook.review.heights import kerf_area
from planbook.solids import Area
from planbook.solids.frames import dot, negated
from planbook.workshop import Event

CRUMB = 1.0
"""Kerfs smaller than this (mm2) are what a rounded hole leaves of a cut."""


@dataclass(frozen=True, eq=False, slots=True)
class Enclosed:
    """A kerf that lies wholly within the outline of the wood; `hole` is the widest hole that leads to it, mm."""

    each: Sawn
    kerf: Area
    hole: float


def enclosed(event: Event) -> Iterator[Enclosed]:
    """The cuts of a `saw` block that start in a hole."""
    for each in sawn(event):
        if each.section.empty or len(each.section.rings) == len(each.section.parts):
            continue  # There is no hole to start in.
        normal = each.stuck.frame.n
        low = -each.piece.solid.reach(negated(normal)) - dot(each.stuck.frame.origin, normal)
        outline = each.section.outers[0].plus(*each.section.outers[1:])
        kerf = kerf_area(event, each.piece, each.section, low, normal)
        # A cut goes on beyond a hollow that it crosses: what it joins is one way.
        ways = kerf.plus(outline.minus(each.section)).parts
        for way in ways:
            part = way.meet(kerf)
            if part.size > CRUMB and way.within(outline, 0.01):
                yield Enclosed(each, part, _widest(each.section, outline, part))


def _widest(section: Area, outline: Area, kerf: Area) -> float:
    """The width of the widest opening of the wood that a kerf runs into."""
    holes = [hole for hole in outline.minus(section).parts if not hole.empty and hole.offset(0.02).touches(kerf)]
    sizes = [hole.bounds for hole in holes]
    return max((min(right - left, top - bottom) for left, bottom, right, top in sizes), default=0.0)
