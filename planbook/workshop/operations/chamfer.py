"""Chamfer edges at 45 degrees."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids.turned import chamfer_profile
from planbook.workshop.drawn import Drawn
from planbook.workshop.edging import Edging
from planbook.workshop.fields import Positive
from planbook.workshop.shop import Outcome, Shop


@dataclass(frozen=True, kw_only=True)
class Chamfer(Edging):
    """Take `width` of both sides off straight edges (`sides`) or whole rims (`outline`); otherwise only recorded."""

    KIND: ClassVar[str] = "chamfer"
    DONE = "chamfered"
    DRAWN: ClassVar[Drawn] = Drawn(weight=110, laid="one by one", old_edges=True, section=("width",), rounds=True)

    width: Positive
    """How much comes off both sides of the edge."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        width = float(self.width)
        return self.edged(chamfer_profile(width), width, "width", f"chamfered {width:g} mm", shop)
