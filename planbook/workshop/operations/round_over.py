"""Round over edges."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids.turned import rounded_profile
from planbook.workshop.drawn import Drawn
from planbook.workshop.edging import Edging
from planbook.workshop.fields import Positive
from planbook.workshop.shop import Outcome, Shop


@dataclass(frozen=True, kw_only=True)
class RoundOver(Edging):
    """Round straight edges (`sides`) or whole rims (`outline`) of faces to a radius; otherwise it is only recorded."""

    KIND: ClassVar[str] = "round over"
    DONE = "rounded"
    DRAWN: ClassVar[Drawn] = Drawn(weight=120, laid="one by one", old_edges=True, section=("radius",), rounds=True)

    radius: Positive
    """How round the edge becomes."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        radius = float(self.radius)
        return self.edged(rounded_profile(radius), radius, "radius", f"rounded over {radius:g} mm", shop)
