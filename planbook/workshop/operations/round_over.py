"""Round over edges; recorded, not cut into the solid."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids import FACE_FRAMES
from planbook.workshop.fields import FaceNames, PieceName, Positive, Text, ToolName
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Cue, Show, Shown, Treated, Use


@dataclass(frozen=True, kw_only=True)
class RoundOver(Work):
    """Round the edges around faces to a radius. The rounding is recorded and printed; the solid keeps its edges."""

    KIND: ClassVar[str] = "round over"
    EACH: ClassVar[bool] = True

    piece: PieceName
    faces: FaceNames
    radius: Positive
    tool: ToolName
    edges: Text = ""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.tool, self.where("tool"))
        done, metres, cues = [], 0.0, []
        for face in self.faces:
            frame = FACE_FRAMES[face]
            area = piece.solid.face(frame)
            metres += area.perimeter / 1000
            done.append(Treated(face, "sanded", shop.at, 0.0, f"rounded over {float(self.radius):g} mm"))
            height = piece.solid.reach(frame.n)
            for ring in area.rings:
                world = [frame.world(u, v, height) for u, v in ring]
                cues.append(Cue("cut line", (*world, world[0]), piece.name))
        made = reshaped(piece, piece.solid, shop, done)
        return Outcome(
            taken=(piece,),
            made=(made,),
            uses=(Use(tool.name, tool.kind, metres, "m"),),
            show=Show(self.faces[0], (Shown(made, "worked"),), tuple(cues)),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(("faces", self.faces), ("radius", float(self.radius)), ("edges", self.edges)),
        )
