"""Sand or plane down to a line of the stencil."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids import Area, Frame, Solid
from planbook.workshop.cutting import outline_cues, span, through, with_waste
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Names, PieceName, StencilName, ToolName
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Lost, Show, Shown, Stuck, Treated, Use


@dataclass(frozen=True, kw_only=True)
class SandToLine(Work):
    """Take a sawn edge down to closed lines of the stencil: what lies beyond (or, for a hole, within) becomes dust."""

    KIND: ClassVar[str] = "sand to line"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=170, old_edges=True, follows="sanded")

    piece: PieceName
    stencil: StencilName
    tool: ToolName
    lines: Names | None = None
    """The closed lines that are sanded down to; all of the stencil if left out."""
    keep: Literal["inside", "outside"] = "inside"
    """Which side of the lines stays."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        stuck = shop.stuck(piece, self.stencil, self.where("stencil"))
        tool = shop.tool(self.tool, self.where("tool"))
        names = self.lines or tuple(line.name for line in stuck.stencil.lines)
        outlines = [shop.line(stuck, name, self.where("lines", "stencil")) for name in names]
        areas = [o for o in outlines if isinstance(o, Area)]
        still_open = [name for name, o in zip(names, outlines, strict=True) if not isinstance(o, Area)]
        if not areas or (self.lines and still_open):
            raise snag("line-not-closed", self.where("lines", "stencil"), shop.at.step, lines=still_open)
        inside = self.keep == "inside"
        off = shop.allowance("sanding")
        line = areas[0].plus(*areas[1:]).offset(-off if inside else off)
        keeper = through(line, stuck.frame, piece.solid)
        within, beyond = piece.solid.parted(keeper)
        solid, dust = (within, beyond) if inside else (beyond, within)
        if solid.empty or solid.volume < 0.5 * piece.solid.volume:
            share = 1 - solid.volume / piece.solid.volume
            raise snag("sands-too-much", self.where("keep", "lines"), shop.at.step, piece=piece.name, share=share)
        bare = _off_the_wood(names, outlines, stuck.frame, piece.solid) if len(areas) > 1 else ()
        if bare or (dust.volume < 1e-3 and off >= 0):
            facts = {"piece": piece.name, "lines": bare or names}
            raise snag("nothing-to-sand", self.where("lines", "stencil"), shop.at.step, **facts)
        metres = sum(a.perimeter for a in areas) / 1000
        low, high = span(piece.solid, stuck.frame)
        area = metres * 1000 * (high - low)
        made = reshaped(piece, solid, shop, (Treated("line", "sanded", shop.at, area, tool.name),))
        cues = _lines_to(areas, stuck, piece.name, inside) if shop.shown else []
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=(Lost("dust", dust, dust.volume),),
            uses=(Use(tool.name, tool.kind, area / 1e6, "m2"),),
            show=Show(stuck.stencil.face, (Shown(made, "worked"),), tuple(cues)),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(("stencil", self.stencil), ("lines", names), ("keep", self.keep)),
        )


def _lines_to(areas: Sequence[Area], stuck: Stuck, piece: str, inside: bool) -> list[Cue]:
    """The lines that are worked down to, each with its waste side."""
    whole = areas[0].plus(*areas[1:])
    kept = whole if inside else stuck.face.minus(whole)
    return [with_waste(cue, stuck.frame, kept) for area in areas for cue in outline_cues(area, stuck, piece)]


def _off_the_wood(names: Sequence[str], outlines: Sequence[object], frame: Frame, solid: Solid) -> tuple[str, ...]:
    """The closed lines that no wood lies within: one that is elsewhere would be sanded to in the air."""
    closed = [(name, area) for name, area in zip(names, outlines, strict=True) if isinstance(area, Area)]
    return tuple(name for name, area in closed if solid.meet(through(area, frame, solid)).volume < 1e-3)
