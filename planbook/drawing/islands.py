"""Where on small faces a leader may end: amid them, and where no other piece could be meant; draws nothing."""

from collections.abc import Sequence

from planbook.drawing.look import Look
from planbook.solids.hatch import grounds, roomy_parts, roomy_point
from planbook.solids.visible import Polygon2

TIGHT = 0.012
"""A face on which no point is farther from its edge than this share of the picture is hardly wider than a dot."""
MANY = 3
"""Where so many other pieces lie about a dot, it stands on a join of several and could mean any of them."""


def by_themselves(faces: Sequence[tuple[Polygon2, ...]], piece: int, look: Look) -> list[tuple[Polygon2, ...]]:
    """The faces of a piece, by number, on which a leader may end.

    If all are small, and MANY others lie about one of their roomiest parts, those of these about which the fewest do.
    """
    left, bottom, right, top = look.bounds
    reach = TIGHT * max(right - left, top - bottom)
    if any(roomy_point(face, 0.0)[1] > reach for face in faces):
        return [*faces]
    parts = [part for face in faces for part in roomy_parts(face)]
    spots = [roomy_point(part, 0.0)[0] for part in parts]
    pieces = sorted({face.piece for face in look.faces})
    seen = grounds([[q for face in look.of(n) for q in face.polygons] for n in pieces])
    beside = [count - 1 for count in seen.about(spots, 2.0 * reach)]  # each lies on its own piece
    if max(beside, default=0) < MANY:
        return [*faces]
    return [part for part, count in zip(parts, beside, strict=True) if count == min(beside)]
