"""Saw an end off at an angle in plan."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Angle, Face, Positive
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.straight import StraightCut


@dataclass(frozen=True, kw_only=True)
class Mitre(StraightCut):
    """Saw an `end` off at an `angle` from square; the side `long` keeps its whole length, or becomes `to` long."""

    KIND: ClassVar[str] = "mitre"
    DRAWN: ClassVar[Drawn] = Drawn(weight=370, laid="opened", old_edges=True)

    end: Face
    """The end that comes off."""
    long: Face
    """The side that keeps its whole length."""
    angle: Angle
    """How far the cut is from square."""
    to: Positive | None = None
    """How long that side becomes; as it was if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        return self.angled_cut(self.end, self.long, self.angle, self.to, "angle", shop)
