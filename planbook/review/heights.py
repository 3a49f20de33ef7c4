"""How tall the wood is under a saw, and on what it lies; measured on the solids, not judged."""

from planbook.model import Tool
from planbook.review.bends import sawn
from planbook.review.cuts import setting
from planbook.solids import FACE_FRAMES, OPPOSITE, Area, Solid
from planbook.solids.frames import dot, negated
from planbook.workshop import Event, Piece, Timeline

EDGEWISE = ("slice", "trim", "rip", "crosscut")
"""Straight cuts parallel to the face they name: the piece stands on one of the other four."""
FLAT = 0.95
"""A side of which so much is flat is flat enough: nothing better is looked for."""


def heights(event: Event, piece: Piece) -> tuple[float, float] | None:
    """The least and the most wood (mm) that the teeth can have in a cut; None where it depends on how it is laid."""
    if event.operation.kind == "saw":
        stuck = next((each.stuck for each in sawn(event) if each.piece is piece), None)
        if stuck is None:
            return None
        tall = piece.solid.reach(stuck.frame.n) + piece.solid.reach(negated(stuck.frame.n))
        return tall, tall
    face = setting(event, "face")
    if event.operation.kind not in EDGEWISE or face not in FACE_FRAMES:
        return None
    normal = FACE_FRAMES[face].n
    sides = [e for e, n in zip(piece.solid.extent, normal, strict=True) if abs(n) < 0.5]
    return min(sides), max(sides)


def beside_fence(event: Event, piece: Piece) -> tuple[float, float]:
    """How long a piece that lies on its broader side is along the fence, and how far it reaches from there, mm."""
    normal = FACE_FRAMES[setting(event, "face")].n
    sides = [e for e, n in zip(piece.solid.extent, normal, strict=True) if abs(n) < 0.5]
    across = next(e for e, n in zip(piece.solid.extent, normal, strict=True) if abs(n) > 0.5)
    return max(sides), across


def support(event: Event, piece: Piece) -> float | None:
    """The share of the cut, or of the best side to stand on, under which the wood lies on the table."""
    if event.operation.kind == "saw":
        return _under_the_line(event, piece)
    face = setting(event, "face")
    if event.operation.kind not in EDGEWISE or face not in FACE_FRAMES:
        return None
    best = 0.0
    for side in FACE_FRAMES:
        if side not in (face, OPPOSITE[face]) and best < FLAT:
            best = max(best, flatness(piece.solid, side))
    return best


def flatness(solid: Solid, face: str) -> float:
    """How much of the outline of a side is one flat face: 1 for a box, 0 for a ball."""
    frame = FACE_FRAMES[face]
    outline = solid.shadow(frame).size
    return solid.face(frame).size / outline if outline else 0.0


def _under_the_line(event: Event, piece: Piece) -> float | None:
    each = next((each for each in sawn(event) if each.piece is piece), None)
    if each is None:
        return None
    frame = each.stuck.frame
    low = -piece.solid.reach(negated(frame.n)) - dot(frame.origin, frame.n)
    foot = piece.solid.section(frame, low + 1e-3)
    if foot.size > FLAT * each.section.size and foot.size < each.section.size / FLAT:
        return 1.0
    kerf = kerf_area(event, piece, each.section, low, frame.n)
    return foot.meet(kerf).size / kerf.size if not kerf.empty else None


def kerf_area(event: Event, piece: Piece, section: Area, low: float, normal: tuple[float, float, float]) -> Area:
    """The kerf of a saw cut half way down a piece, as it is seen from the face with the stencil."""
    frame = next(each.stuck.frame for each in sawn(event) if each.piece is piece)
    high = piece.solid.reach(normal) - dot(frame.origin, normal)
    areas = [loss.solid.section(frame, (low + high) / 2).meet(section) for loss in event.lost if loss.how == "kerf"]
    return areas[0].plus(*areas[1:]) if areas else section.minus(section)


def teeth(tool: Tool, tall: float) -> float | None:
    """How many teeth of a blade are in wood of a height (mm); None where the design does not say how fine it is."""
    return tool.teeth_per_inch * tall / 25.4 if tool.teeth_per_inch else None


def longest(piece: Piece) -> float:
    """The longest side of the box around a piece, mm."""
    return max(piece.solid.extent)


def powered(event: Event, timeline: Timeline, *kinds: str) -> Tool | None:
    """The tool of an event where it is a machine of one of these kinds."""
    tools = (timeline.design.tools.get(use.name) for use in event.uses)
    return next((tool for tool in tools if tool is not None and tool.kind in kinds), None)
