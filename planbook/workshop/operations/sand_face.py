"""Sand or plane a flat face, taking a given amount."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids import FACE_FRAMES
from planbook.workshop.cutting import halved
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import FaceNames, PieceName, Positive, ToolName
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Lost, Piece, Show, Shown, Treated, Use


@dataclass(frozen=True, kw_only=True)
class SandFace(Work):
    """Take `take` off one or more flat faces of a piece."""

    KIND: ClassVar[str] = "sand face"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=80, work="sanding", laid="opened", old_edges=True)

    piece: PieceName
    faces: FaceNames
    take: Positive
    """How much comes off each face."""
    tool: ToolName

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.tool, self.where("tool"))
        solid, lost, done, cues = piece.solid, [], [], []
        take = shop.sanded(float(self.take))
        for face in self.faces:
            within = Piece(piece.name, solid, piece.members, piece.at)
            layer, solid, _ = halved(within, face, take, take, "dust", self.where("take"), shop)
            if layer.volume > 0.5 * piece.solid.volume:
                raise snag("sands-too-much", self.where("take"), shop.at.step, piece=piece.name, share=0.5)
            lost.append(Lost("dust", layer, layer.volume))
            done.append(Treated(face, "sanded", shop.at, shop.worked(solid, face), tool.name))
            if shop.shown:
                frame = FACE_FRAMES[face]
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
            settings=(
                ("faces", self.faces),
                ("take off each face" if len(self.faces) > 1 else "take", float(self.take)),
            ),
        )
