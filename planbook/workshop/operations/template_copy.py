"""Rout a piece to the outline of a template."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids import Area, Frame
from planbook.workshop.cutting import BARE, line_cue, span, through
from planbook.workshop.fields import Face, Flag, PieceName, ToolName
from planbook.workshop.pieces import face_frame, reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Lost, Piece, Show, Shown, Treated, Use

SNUG = 0.02
"""How far (mm) a template may stand over the edge of a piece: no more than a chord of an arc."""


@dataclass(frozen=True, kw_only=True)
class TemplateCopy(Work):
    """Lay a `template` on a `face` and rout away what stands out beyond it; `turned_over` gives the mirrored twin."""

    KIND: ClassVar[str] = "template copy"
    EACH: ClassVar[bool] = True

    piece: PieceName
    template: PieceName
    face: Face
    tool: ToolName
    origin: Literal["lower left", "lower right", "lower middle", "middle", "world"] = "world"
    turned_over: Flag = False

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        template = shop.dry(self.template, self.where("template"))
        tool = shop.tool(self.tool, self.where("tool"), "router", "other")
        if template.name == piece.name:
            place = self.where("template")
            raise snag("template-off-piece", place, shop.at.step, piece=piece.name, template=piece.name)
        frame = face_frame(piece, self.face, self.origin)
        outline = self._outline(template, frame)
        shadow = piece.solid.shadow(frame)
        if outline.minus(shadow.offset(SNUG)).size > BARE:
            facts = {"piece": piece.name, "template": template.name}
            raise snag("template-off-piece", self.where("origin", "template"), shop.at.step, **facts)
        keeper = through(outline, frame, piece.solid)
        solid, dust = piece.solid.meet(keeper), piece.solid.minus(keeper)
        place = self.where("template")
        if dust.volume < BARE:
            raise snag("cut-misses", place, shop.at.step, piece=piece.name)
        if len(solid.parts) > 1:
            raise snag("cut-splits", place, shop.at.step, piece=piece.name, operation=self.KIND)
        low, high = span(piece.solid, frame)
        treated = Treated("line", "sawn", shop.at, outline.perimeter * (high - low), tool.name)
        made = reshaped(piece, solid, shop, (treated,))
        metres = outline.perimeter / 1000
        on_face = frame.at(frame.world(0.0, 0.0, high))
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=(Lost("dust", dust, dust.volume),),
            uses=(Use(tool.name, tool.kind, metres, "m"),),
            show=Show(
                self.face, (Shown(made, "worked"),), tuple(line_cue(r, on_face, piece.name) for r in outline.rings)
            ),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(
                ("template", template.name),
                ("face", self.face),
                ("turned over", self.turned_over),
                ("depth of cut", high - low),
            ),
        )

    def _outline(self, template: Piece, frame: Frame) -> Area:
        """The template's outline on the face of the piece, in its frame."""
        own = face_frame(template, self.face, self.origin)
        outline = template.solid.shadow(own)
        if not self.turned_over:
            return outline
        left, _, right, _ = outline.bounds
        return outline.mirrored("u", (left + right) / 2)
