"""Rip a piece to a width, along the grain."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Positive
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.straight import StraightCut


@dataclass(frozen=True, kw_only=True)
class Rip(StraightCut):
    """Saw along the grain to a `width` between the fence and the blade; `face` is the side that comes off."""

    KIND: ClassVar[str] = "rip"
    DRAWN: ClassVar[Drawn] = Drawn(weight=390, old_edges=True)

    face: Face
    """The side that comes off."""
    width: Positive
    """How wide the piece becomes."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        return self.square_cut(self.face, float(self.width), True, "width", "fence", shop)
