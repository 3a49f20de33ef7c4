"""Outlines of what is let into a face, such as plugs, where no dot of the face's own name should lie."""

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
    """Closed lines on paper around what lies amid a face in another wood and is small; a row of scraps is not.

    Each has another line inside, half as large, so that no place of it is far from a line.
    """
    grounds = {(face.piece, face.surface): face for face in look.faces}
    found: list[Ring] = []
    for each in look.inlays:
        ground = grounds.get((each.piece, each.surface))
        if ground is not None and len(each.polygons) <= MANY:
            small = [outer for outer, _ in each.polygons if _wide(outer) * paper.scale < SMALL]
            found += _amid(small, ground) if small else []
    lines = (line for ring in found for line in (ring, _half(ring)))
    return tuple(tuple(paper.put(point) for point in (*line, line[0])) for line in lines)


def _half(ring: Ring) -> Ring:
    u, v = (sum(point[k] for point in ring) / len(ring) for k in (0, 1))
    return tuple(((a + u) / 2, (b + v) / 2) for a, b in ring)


def _wide(ring: Ring) -> float:
    us, vs = [u for u, _ in ring], [v for _, v in ring]
    return max(max(us) - min(us), max(vs) - min(vs))


def _amid(rings: Sequence[Ring], face: Face) -> list[Ring]:
    """Those of rings that lie wholly in a face, clear of its edges."""
    rims = [(*rim, rim[0]) for outer, holes in face.polygons for rim in (outer, *holes)]
    points = [point for ring in rings for point in ring]
    clear = zip(inside(face.polygons, points), clearances((), rims, points), strict=True)
    good = iter([holds and far > APART for holds, far in clear])
    each = [[next(good) for _ in ring] for ring in rings]
    return [ring for ring, ok in zip(rings, each, strict=True) if all(ok)]
