"""Saw an edge off with the blade tilted."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.fields import Angle, Face, Positive
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.straight import StraightCut


@dataclass(frozen=True, kw_only=True)
class Bevel(StraightCut):
    """Saw an `edge` off with the blade tilted by `angle`; the face `wide` keeps its width, or becomes `to` wide."""

    KIND: ClassVar[str] = "bevel"

    edge: Face
    wide: Face
    angle: Angle
    to: Positive | None = None

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        return self.angled_cut(self.edge, self.wide, self.angle, self.to, "tilt", shop)
