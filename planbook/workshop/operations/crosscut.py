"""Crosscut a piece to a length, across the grain."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Positive
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.straight import StraightCut


@dataclass(frozen=True, kw_only=True)
class Crosscut(StraightCut):
    """Saw across the grain to a `length`; `face` is the end that comes off."""

    KIND: ClassVar[str] = "crosscut"
    DRAWN: ClassVar[Drawn] = Drawn(weight=380, old_edges=True)

    face: Face
    """The end that comes off."""
    length: Positive
    """How long the piece becomes."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        return self.square_cut(self.face, float(self.length), False, "length", "stop", shop)
