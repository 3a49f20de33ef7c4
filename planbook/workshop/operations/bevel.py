"""Saw an edge off with the blade tilted."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Angle, Face, Positive
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.straight import StraightCut


@dataclass(frozen=True, kw_only=True)
class Bevel(StraightCut):
    """Saw an `edge` off with the blade tilted by `angle`; the face `wide` keeps its width, or becomes `to` wide."""

    KIND: ClassVar[str] = "bevel"
    DRAWN: ClassVar[Drawn] = Drawn(weight=360, laid="opened", old_edges=True)

    edge: Face
    """The side that comes off."""
    wide: Face
    """The face that keeps its width."""
    angle: Angle
    """How far the blade is tilted from square."""
    to: Positive | None = None
    """How wide that face becomes; as it was if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        return self.angled_cut(self.edge, self.wide, self.angle, self.to, "tilt", shop)
