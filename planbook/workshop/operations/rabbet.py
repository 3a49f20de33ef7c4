"""Cut a rabbet along edges of a face."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.channels import Channel
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import FaceNames
from planbook.workshop.shop import Outcome, Shop


@dataclass(frozen=True, kw_only=True)
class Rabbet(Channel):
    """Cut a step along `edges` of a face, `width` wide on the face and `depth` deep from it."""

    KIND: ClassVar[str] = "rabbet"
    DRAWN: ClassVar[Drawn] = Drawn(weight=230, old_edges=True, section=("width", "depth"))

    edges: FaceNames
    """The edges of the face along which it runs."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = self.start(self.edges, shop)
        strips = [self.strip(piece, edge, 0.0, shop) for edge in self.edges]
        settings = (("edges", self.edges), *self.stops_told(self.edges[0]))
        return self.channelled(piece, strips[0].plus(*strips[1:]), settings, (), shop)
