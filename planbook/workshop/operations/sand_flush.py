"""Sand glued pieces flush, so that a face made of several becomes one plane."""

from dataclasses import dataclass, replace
from typing import ClassVar

from planbook.solids import FACE_FRAMES, Frame, Solid, Vec3
from planbook.solids.frames import dot
from planbook.workshop.cutting import halved
from planbook.workshop.fields import FaceNames, PieceName, ToolName
from planbook.workshop.pieces import member_solids, reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Cue, Lost, Piece, Show, Shown, Treated, Use

REACH = 4.0
"""Members that stay further back from a face than this (mm) do not belong to it."""


@dataclass(frozen=True, kw_only=True)
class SandFlush(Work):
    """Sand each face down to the lowest of the pieces that form it."""

    KIND: ClassVar[str] = "sand flush"
    EACH: ClassVar[bool] = True

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
            if take > 1e-6:
                within = Piece(piece.name, solid, piece.members, piece.at)
                layer, solid, _ = halved(within, face, take, take, "dust", self.where("faces"), shop)
                lost.append(Lost("dust", layer, layer.volume))
            done.append(Treated(face, "sanded", shop.at, shop.worked(solid, face), tool.name))
            if shop.shown:
                spot = frame.world(*solid.face(frame).middle, solid.reach(frame.n))
                cues.append(Cue("sand", (spot,), piece.name, face))
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


def _out(box: tuple[Vec3, Vec3], way: Vec3) -> float:
    """How far a box reaches along an axis."""
    return max(dot(corner, way) for corner in box)
