"""Countersink holes: a cone for the head of a screw, and the hole on through it."""

from dataclasses import dataclass
from fractions import Fraction
from math import radians, tan
from typing import ClassVar

from planbook.solids import Frame, Solid
from planbook.solids.plane import circle
from planbook.solids.solid import cylinder
from planbook.solids.turned import cone
from planbook.workshop.cutting import span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Angle, Positive, ToolName
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.snags import snag
from planbook.workshop.spots import AtPoints, Spot, axes, diameter_of
from planbook.workshop.timeline import Show, Shown, Use

FLATTEST = 180
ABOVE = 0.5
"""How far (mm) the cone goes on above the face, so that no skin is left in it."""


@dataclass(frozen=True, kw_only=True)
class Countersink(AtPoints):
    """Sink cones `diameter` wide at the face, with `angle` between their sides, and with `hole` on through."""

    KIND: ClassVar[str] = "countersink"
    DRAWN: ClassVar[Drawn] = Drawn(weight=200, fastens="hole")

    drill: ToolName
    """The countersink."""
    diameter: Positive
    """How wide the cone is at the face."""
    angle: Angle = Fraction(90)
    """Between the sides of the cone; 90 degrees if left out."""
    hole: ToolName | None = None
    """The drill that goes on right through; none if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        sink = shop.tool(self.drill, self.where("drill"), "drill", "other")
        narrow = shop.tool(self.hole, self.where("hole"), "drill") if self.hole else None
        wide, inner = float(self.diameter), diameter_of(narrow, shop) if narrow else 0.0
        if inner >= wide:
            facts = {"wide": wide, "narrow": inner, "operation": self.KIND}
            raise snag("head-too-narrow", self.where("diameter"), shop.at.step, **facts)
        if self.angle >= FLATTEST:
            facts = {"angle": float(self.angle), "operation": self.KIND, "most": FLATTEST}
            raise snag("angle-too-steep", self.where("angle"), shop.at.step, **facts)
        frame, spots, face = self.spots(piece, shop)
        low, high = span(piece.solid, frame)
        tops = self.tops(piece, frame, spots, wide / 2)
        slope = tan(radians(float(self.angle)) / 2)
        depth = (wide - inner) / 2 / slope
        self.check_depth(piece, depth, min(tops.values()) - low, "diameter", shop)
        cutters = {name: _sink(frame, at, tops[name], wide / 2, inner / 2, slope) for name, at in spots.items()}
        if narrow:
            cutters = {n: c.plus(cylinder(frame, spots[n], inner / 2, low - 1, high)) for n, c in cutters.items()}
        rims = {name: (circle(at, wide / 2), at, wide / 2) for name, at in spots.items()}
        done = self.opened(piece, frame, cutters, rims, shop)
        used = (sink, narrow) if narrow else (sink,)
        return Outcome(
            taken=(piece,),
            made=(done.piece,),
            lost=done.lost,
            uses=tuple(Use(tool.name, tool.kind, len(spots), "holes") for tool in used),
            show=Show(face, (Shown(done.piece, "worked"),), axes(frame, spots, tops, piece.name)),
            hands_on=shop.minutes(self.KIND, len(spots)),
            settings=(
                ("diameter", wide),
                ("angle", self.angle),
                ("depth", depth),
                ("hole", inner),
                *self.told(face, spots),
            ),
            troubles=done.doubts,
        )


def _sink(frame: Frame, at: Spot, top: float, wide: float, inner: float, slope: float) -> Solid:
    """The cone from the hole (or its tip) to a little above the wood; radii in mm."""
    depth = (wide - inner) / slope
    return cone(frame, at, (top - depth, inner), (top + ABOVE, wide + ABOVE * slope))
