"""Rip a piece to a width, along the grain."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Positive
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.straight import StraightCut


@dataclass(frozen=True, kw_only=True)
class Rip(StraightCut):
    """Saw along the grain to a `width`, led by the fence or what `guide` says; `face` is the side that comes off."""

    KIND: ClassVar[str] = "rip"
    DRAWN: ClassVar[Drawn] = Drawn(weight=390, old_edges=True)

    face: Face
    """The side that comes off."""
    width: Positive
    """How wide the piece becomes."""
    guide: Literal["fence", "sled"] = "fence"
    """What leads the piece: the "fence", or a "sled" with a stop, for what is wider than it is long beside the cut."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        setting = "fence" if self.guide == "fence" else "stop"
        return self.square_cut(self.face, float(self.width), True, "width", setting, shop)
