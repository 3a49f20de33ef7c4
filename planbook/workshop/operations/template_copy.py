"""Rout a piece to the outline of a template."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids import Area, Frame
from planbook.workshop.cutting import BARE, line_cue, span, through, with_waste
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Flag, PieceName, StencilName, Text, ToolName
from planbook.workshop.pieces import face_frame, reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import Snag, snag
from planbook.workshop.timeline import Lost, Piece, Show, Shown, Treated, Use

SNUG = 0.02
"""How far (mm) a template may stand over the edge of a piece: no more than a chord of an arc."""


@dataclass(frozen=True, kw_only=True)
class TemplateCopy(Work):
    """Lay a `template` on a `face` and rout away what stands out beyond it; `turned_over` gives the mirrored twin.

    A pattern that is no piece of the design is cut from a closed `line` of a `stencil`, and lies where that is stuck.
    """

    KIND: ClassVar[str] = "template copy"
    EACH: ClassVar[bool] = True
    MIRRORS: ClassVar[bool] = False
    DRAWN: ClassVar[Drawn] = Drawn(weight=350, old_edges=True, follows="sanded")

    piece: PieceName
    tool: ToolName
    template: PieceName | None = None
    """A piece that serves as the pattern, instead of `stencil` and `line`."""
    face: Face | None = None
    """The face on which the template is laid."""
    stencil: StencilName | None = None
    """The stencil on the piece that the pattern is cut from."""
    line: Text = ""
    """Its closed line."""
    origin: Literal["lower left", "lower right", "lower middle", "middle", "world"] = "world"
    """The point at which template and piece are laid on one another; where both lie if left out."""
    turned_over: Flag = False
    """Whether the template is laid on with its other side."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.tool, self.where("tool"), "router", "other")
        pattern, face, frame, outline = self._pattern(piece, shop)
        shadow = piece.solid.shadow(frame)
        if outline.minus(shadow.offset(SNUG)).size > BARE:
            facts = {"piece": piece.name, "template": pattern}
            raise snag("template-off-piece", self.where("origin", "template", "line"), shop.at.step, **facts)
        keeper = through(outline, frame, piece.solid)
        solid, dust = piece.solid.meet(keeper), piece.solid.minus(keeper)
        place = self.where("template", "line")
        if dust.volume < BARE:
            raise snag("cut-misses", place, shop.at.step, piece=piece.name)
        if len(solid.parts) > 1:
            raise snag("cut-splits", place, shop.at.step, piece=piece.name, operation=self.KIND)
        low, high = span(piece.solid, frame)
        treated = Treated("line", "sawn", shop.at, outline.perimeter * (high - low), tool.name)
        made = reshaped(piece, solid, shop, (treated,))
        metres = outline.perimeter / 1000
        on_face = frame.at(frame.world(0.0, 0.0, high))
        lines = [line_cue(ring, on_face, piece.name) for ring in outline.rings]
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=(Lost("dust", dust, dust.volume),),
            uses=(Use(tool.name, tool.kind, metres, "m"),),
            show=Show(face, (Shown(made, "worked"),), tuple(with_waste(cue, on_face, outline) for cue in lines)),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(
                ("template", pattern if self.template else ""),
                ("stencil", self.stencil or ""),
                ("lines", (self.line,) if self.stencil else ()),
                ("face", face),
                ("turned over", self.turned_over),
                ("depth of cut", high - low),
            ),
        )

    def _pattern(self, piece: Piece, shop: Shop) -> tuple[str, str, Frame, Area]:
        """What the piece is routed to: its name, the face, the frame of the face and the outline in it. Raises Snag."""
        for fields in (("template", "stencil"), *((("stencil", "turned_over"),) if self.turned_over else ())):
            if (getattr(self, fields[0]) is None) == (getattr(self, fields[1]) in (None, False)):
                raise snag("one-of-two", self.written.place, shop.at.step, fields=fields, operation=self.KIND)
        if self.stencil is not None:
            if not self.line:
                raise self._lacks("line", "text", shop)
            stuck = shop.stuck(piece, self.stencil, self.where("stencil"))
            place = self.where("line", "stencil")
            outline = shop.line(stuck, self.line, place)
            if not isinstance(outline, Area):
                raise snag("line-not-closed", place, shop.at.step, lines=(self.line,))
            return self.stencil, stuck.stencil.face, stuck.frame, outline
        if self.face is None:
            raise self._lacks("face", "face", shop)
        place = self.where("template")
        template = shop.dry(self.template or "", place)
        if template.name == piece.name:
            raise snag("template-off-piece", place, shop.at.step, piece=piece.name, template=piece.name)
        frame = face_frame(piece, self.face, self.origin)
        return template.name, self.face, frame, self._outline(template, self.face, frame)

    def _lacks(self, field: str, what: str, shop: Shop) -> Snag:
        facts = {"field": field, "what": what, "operation": self.KIND}
        return snag("missing-field", self.written.place, shop.at.step, **facts)

    def _outline(self, template: Piece, face: str, frame: Frame) -> Area:
        """The template's outline on the face of the piece, in its frame."""
        own = face_frame(template, face, self.origin)
        outline = template.solid.shadow(own)
        if not self.turned_over:
            return outline
        left, _, right, _ = outline.bounds
        return outline.mirrored("u", (left + right) / 2)
