"""Close the kerf of an entry cut with a shim of wood."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids import Path
from planbook.solids.solid import prism
from planbook.workshop.cutting import line_cue, span
from planbook.workshop.fields import Minutes, PieceName, StencilName, SupplyName, Text
from planbook.workshop.gluing import cure_minutes
from planbook.workshop.joints import SNUG, clamp_minutes, join
from planbook.workshop.pieces import reshaped, without_crumbs
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Lost, Member, Piece, Show, Shown, Use


@dataclass(frozen=True, kw_only=True)
class Shim(Work):
    """Glue a thin strip into the kerf along an open line of the stencil, and trim it flush with the piece."""

    KIND: ClassVar[str] = "shim"
    EACH: ClassVar[bool] = True
    MIRRORS: ClassVar[bool] = False

    piece: PieceName
    stencil: StencilName
    line: Text
    shim: PieceName
    glue: SupplyName
    clamp: Minutes | None = None

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        strip = shop.dry(self.shim, self.where("shim"))
        supply = shop.supply(self.glue, self.where("glue"), "glue")
        stuck = shop.stuck(piece, self.stencil, self.where("stencil"))
        line = shop.line(stuck, self.line, self.where("line"))
        if not isinstance(line, Path):
            raise snag("entry-not-open", self.where("line"), shop.at.step, line=self.line)
        thick = min(strip.solid.extent)
        low, high = span(piece.solid, stuck.frame)
        section = piece.solid.section(stuck.frame, (low + high) / 2)
        closed = section.offset(thick * 0.75).offset(-thick * 0.75)
        way = closed.meet(line.band(1.6 * thick, over=(2 * thick, 2 * thick))).minus(section)
        filling = prism(way.offset(SNUG), stuck.frame, low, high)
        bodies, _ = without_crumbs(filling)
        if not bodies:
            raise snag("no-kerf-there", self.where("line"), shop.at.step, piece=piece.name, line=self.line)
        filled = max(bodies, key=lambda s: s.volume)
        if filled.volume > strip.solid.volume:
            facts = {"shim": strip.name, "have": strip.solid.volume, "need": filled.volume}
            raise snag("shim-too-small", self.where("shim"), shop.at.step, **facts)
        wood = strip.members[0]
        set_in = Piece(strip.name, filled, (Member(wood.stock, wood.wood, wood.grain, filled, filled.bounds),), shop.at)
        minutes = float(self.clamp) if self.clamp is not None else clamp_minutes(supply, shop)
        hands_on = shop.minutes(self.KIND, 1)
        wet = shop.clock + hands_on + max(minutes, cure_minutes(supply, shop))
        joined, area = join(piece.name, [piece, set_in], self.where("line"), shop, wet)
        trimmed = Lost("trim", strip.solid, strip.solid.volume - filled.volume)
        made = reshaped(joined, joined.solid, shop)
        out = tuple(c * (high - low) * 0.7 for c in stuck.frame.n)
        shown = (Shown(piece, "worked"), Shown(set_in, "new", (out[0], out[1], out[2])))
        return Outcome(
            taken=(piece, strip),
            made=(made,),
            lost=(trimmed,),
            uses=(Use(supply.name, "glue", area / 1e6, "m2"),),
            show=Show(stuck.stencil.face, shown, (line_cue(line.points, stuck.frame, piece.name, closed=False),)),
            hands_on=hands_on,
            wait=minutes,
            settings=(("line", self.line), ("thickness", thick), ("mating area", area), ("clamp", minutes)),
        )
