"""Outlines of what is let into a face, such as plugs, on which no dot of the face's own name should lie; draws nothing."""

from collections.abc import Sequence

from planbook.drawing.look import Face, Look
from planbook.drawing.marks import Ring
from planbook.drawing.paper import Paper
from planbook.solids.hatch import clearances, inside

APART = 0.05
"""What comes nearer than this to the edge of its face, mm, such as a strip across it, is part of the face."""
MANY = 12
"""A strip over a curved face may come in more parts than this, of which none is a thing of its own."""
SMALL = 6.0
"""What is larger than this on paper, mm, is a part of the face that may well be pointed at."""


def inlaid(look: Look, paper: Paper) -> tuple[Ring, ...]:
    """Closed lines around what lies amid a face in another wood and is small, on paper; a row of scraps is not."""
    grounds = {(face.piece, face.surface): face for face in look.faces}
    found: list[Ring] = []
    for each in look.inlays:
        ground = grounds.get((each.piece, each.surface))
        if ground is not None and len(each.polygons) <= MANY:
            small = [outer for outer, _ in each.polygons if _wide(outer) * paper.scale < SMALL]
            found += _amid(small, ground) if small else []
    return tuple(tuple(paper.put(point) for point in (*ring, ring[0])) for ring in found)


def _wide(ring: Ring) -> float:
    return max(max(axis) - min(axis) for axis in zip(*ring, strict=True))


def _amid(rings: Sequence[Ring], face: Face) -> list[Ring]:
    """Those of rings that lie wholly in a face, clear of its edges."""
    rims = [(*rim, rim[0]) for outer, holes in face.polygons for rim in (outer, *holes)]
    points = [point for ring in rings for point in ring]
    good = iter(zip(inside(face.polygons, points), clearances((), rims, points), strict=True))
    return [ring for ring in rings if all([holds and far > APART for holds, far in (next(good) for _ in ring)])]
