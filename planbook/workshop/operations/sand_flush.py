"""Sand glued pieces flush, so that a face made of several becomes one plane."""

from dataclasses import dataclass, replace
from typing import ClassVar

from planbook.solids import FACE_FRAMES, Area, Frame, Solid, Vec3
from planbook.solids.frames import dot
from planbook.solids.plane import blank_area
from planbook.workshop.cutting import halved
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import FaceNames, PieceName, ToolName
from planbook.workshop.pieces import member_solids, reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Cue, Lost, Piece, Show, Shown, Treated, Use

REACH = 4.0
"""Members that stay further back from a face than this (mm) do not belong to it."""
SPOT = 0.03
"""What stands proud is sanded by itself if it is no narrower than this share of the face; else all of the face is."""
WHOLE = 0.5
"""The same if no more than this share of the face stands proud."""


@dataclass(frozen=True, kw_only=True)
class SandFlush(Work):
    """Sand each face down to the lowest of the pieces that form it."""

    KIND: ClassVar[str] = "sand flush"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=70, work="sanding", laid="opened", old_edges=True)

    piece: PieceName
    faces: FaceNames
    tool: ToolName

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.tool, self.where("tool"))
        solid, lost, done, cues = piece.solid, [], [], []
        for face in self.faces:
            frame = FACE_FRAMES[face]
            top = solid.reach(frame.n)
            take = top - _lowest(piece, solid, frame, top)
            proud = blank_area()
            if take > 1e-6:
                within = Piece(piece.name, solid, piece.members, piece.at)
                layer, solid, _ = halved(within, face, take, take, "dust", self.where("faces"), shop)
                lost.append(Lost("dust", layer, layer.volume))
                proud = layer.section(frame, top - take / 2) if shop.shown else proud
            done.append(Treated(face, "sanded", shop.at, shop.worked(solid, face), tool.name))
            if shop.shown:
                cues += _marked(solid, proud, face, piece.name)
        made = reshaped(piece, solid, shop, done)
        metres2 = sum(t.area for t in done) / 1e6
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=tuple(lost),
            uses=(Use(tool.name, tool.kind, metres2, "m2"),),
            show=Show(self.faces[0], (Shown(made, "worked"),), tuple(cues)),
            hands_on=shop.minutes(self.KIND, metres2),
            settings=(("faces", self.faces),),
        )


def _lowest(piece: Piece, solid: Solid, frame: Frame, top: float) -> float:
    """How far the lowest of the woods that form a face reaches along its normal.

    The woods are slow to cut apart, and need not be where the face is one plane already.
    """
    if len(piece.members) == 1 or solid.level(frame.n, REACH):
        return top
    near = tuple(m for m in piece.members if _out(m.box, frame.n) > top - REACH)
    levels = (wood.reach(frame.n) for _, wood in member_solids(replace(piece, members=near)))
    return min((level for level in levels if level > top - REACH), default=top)


def _marked(solid: Solid, proud: Area, face: str, name: str) -> list[Cue]:
    """Where a reader sands: the spots that stood proud of a face, or all of it."""
    frame, whole = FACE_FRAMES[face], solid.face(FACE_FRAMES[face])
    level, parts = solid.reach(frame.n), proud.simple_parts if not proud.empty else ()
    left, low, right, high = whole.bounds
    least = SPOT * max(right - left, high - low) / 2
    if parts and proud.size < WHOLE * whole.size and all(p.distance_to_edge(p.roomiest) > least for p in parts):
        rings = (tuple(frame.world(u, v, level) for u, v in part.rings[0]) for part in parts)
        return [Cue("sand", ring, name, face) for ring in rings]
    return [Cue("sand", (frame.world(*whole.middle, level),), name, face)]


def _out(box: tuple[Vec3, Vec3], way: Vec3) -> float:
    """How far a box reaches along an axis."""
    return max(dot(corner, way) for corner in box)
