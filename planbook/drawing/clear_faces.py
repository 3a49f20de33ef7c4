"""What of a face a leader may end on: not a plug or another small wood that lies in it; draws nothing."""

from collections.abc import Sequence

from planbook.drawing.look import Face
from planbook.solids.figures import area_of
from planbook.solids.hatch import inside
from planbook.solids.visible import Polygon2

SMALL = 0.1
"""An inlay that takes less than this share of its face is a thing of its own, and no part of the face for a reader."""


def clear_of_inlays(face: Face, inlays: Sequence[Face]) -> tuple[Polygon2, ...]:
    """The polygons of a face with holes where small inlays lie in it."""
    own = [q for each in inlays if (each.piece, each.surface) == (face.piece, face.surface) for q in each.polygons]
    rings = [outer for outer, _ in own if area_of([(outer, ())]).area < SMALL * face.area]
    if not rings:
        return face.polygons
    return tuple((outer, (*holes, *(r for r in rings if all(inside([(outer, ())], r))))) for outer, holes in face.polygons)
