"""Counterbore holes: a wide hole with a flat bottom, and the narrow hole on through it."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids.plane import circle
from planbook.solids.solid import cylinder
from planbook.workshop.cutting import span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Positive, ToolName
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.snags import snag
from planbook.workshop.spots import AtPoints, axes, diameter_of
from planbook.workshop.timeline import Show, Shown, Use


@dataclass(frozen=True, kw_only=True)
class Counterbore(AtPoints):
    """Bore wide holes to a `depth` with `drill`, and with `hole` on through them."""

    KIND: ClassVar[str] = "counterbore"
    DRAWN: ClassVar[Drawn] = Drawn(weight=210, fastens="hole")

    drill: ToolName
    """The wide drill."""
    depth: Positive
    """How deep the wide hole becomes from where its drill meets the wood."""
    hole: ToolName | None = None
    """The narrow drill, which goes on right through; none if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        drill = shop.tool(self.drill, self.where("drill"), "drill")
        narrow = shop.tool(self.hole, self.where("hole"), "drill") if self.hole else None
        wide, inner = diameter_of(drill, shop), diameter_of(narrow, shop) if narrow else 0.0
        if inner >= wide:
            facts = {"wide": wide, "narrow": inner, "operation": self.KIND}
            raise snag("head-too-narrow", self.where("drill"), shop.at.step, **facts)
        frame, spots, face = self.spots(piece, shop)
        low, high = span(piece.solid, frame)
        depth, tops = float(self.depth), self.tops(piece, frame, spots, wide / 2)
        self.check_depth(piece, depth, min(tops.values()) - low, "depth", shop)
        cutters = {name: cylinder(frame, at, wide / 2, tops[name] - depth, high + 1) for name, at in spots.items()}
        if narrow:
            cutters = {n: c.plus(cylinder(frame, spots[n], inner / 2, low - 1, high)) for n, c in cutters.items()}
        rims = {name: (circle(at, wide / 2), at, wide / 2) for name, at in spots.items()}
        done = self.opened(piece, frame, cutters, rims, shop)
        used = (drill, narrow) if narrow else (drill,)
        return Outcome(
            taken=(piece,),
            made=(done.piece,),
            lost=done.lost,
            uses=tuple(Use(tool.name, tool.kind, len(spots), "holes") for tool in used),
            show=Show(face, (Shown(done.piece, "worked"),), axes(frame, spots, tops, piece.name)),
            hands_on=shop.minutes(self.KIND, len(spots)),
            settings=(
                ("diameter", wide),
                ("depth", depth),
                ("hole", inner),
                *self.told(face, spots),
            ),
            troubles=done.doubts,
        )
