"""How deep the holes of an event are; the places of holes are judged elsewhere."""

from planbook.review.cuts import setting
from planbook.solids import FACE_FRAMES, Vec3
from planbook.solids.frames import negated
from planbook.workshop import Event, Piece

DEPTHS = ("depth", "depth in the other")


def deepest(event: Event, piece: Piece) -> float | None:
    """The depth (mm) of the deepest hole: as it is set, or through the whole piece; None where nothing is bored."""
    if event.operation.kind == "dowel holes" and len(event.taken) == 2:
        return _number(setting(event, DEPTHS[event.taken.index(piece)]))
    depth = setting(event, "depth")
    if depth != "through":
        return _number(depth)
    normal = _normal(event, piece)
    return piece.solid.reach(normal) + piece.solid.reach(negated(normal)) if normal else None


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) and value > 0 else None


def _normal(event: Event, piece: Piece) -> Vec3 | None:
    """The way out of the face that is bored."""
    name = setting(event, "stencil")
    stuck = next((each for each in piece.stuck if each.stencil.name == name), None)
    if stuck is not None:
        return stuck.frame.n
    return FACE_FRAMES[event.show.face].n if event.show else None
