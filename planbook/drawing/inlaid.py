"""Outlines of what is let into a face, such as plugs, on which no dot of the face's own name should lie; draws nothing."""

from planbook.drawing.look import Face, Look
from planbook.drawing.marks import Ring
from planbook.drawing.paper import Paper
from planbook.solids.hatch import clearances, inside

APART = 0.05
"""What comes nearer than this to the edge of its face, mm, such as a strip across it, is part of the face."""


SMALL = 6.0
"""What is larger than this on paper, mm, is a part of the face that may well be pointed at."""


def inlaid(look: Look, paper: Paper) -> tuple[Ring, ...]:
    """Closed lines around what lies amid a flat face in another wood and is small, on paper."""
    grounds = {(face.piece, face.surface): face for face in look.faces if not face.curved}
    found: list[Ring] = []
    for each in look.inlays:
        ground = grounds.get((each.piece, each.surface))
        if ground is not None:
            small = [outer for outer, _ in each.polygons if _wide(outer) * paper.scale < SMALL]
            found += [outer for outer in small if _amid(outer, ground)]
    return tuple(tuple(paper.put(point) for point in (*ring, ring[0])) for ring in found)


def _wide(ring: Ring) -> float:
    return max(max(axis) - min(axis) for axis in zip(*ring, strict=True))


def _amid(ring: Ring, face: Face) -> bool:
    rims = [(*rim, rim[0]) for outer, holes in face.polygons for rim in (outer, *holes)]
    return all(inside(face.polygons, ring)) and min(clearances((), rims, ring)) > APART
