"""Glue sawn pieces back together, closing the kerf that was lost."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Minutes, PieceNames, SupplyName, Text
from planbook.workshop.glue_apart import glued_apart
from planbook.workshop.gluing import glued, laid_in
from planbook.workshop.joints import brought_together
from planbook.workshop.shop import Outcome, Shop, Work


@dataclass(frozen=True, kw_only=True)
class Glue(Work):
    """Push pieces together along an axis until they touch, the first staying where it is, and glue them."""

    KIND: ClassVar[str] = "glue"
    DRAWN: ClassVar[Drawn] = Drawn(weight=330, laid="moved")

    pieces: PieceNames
    """The pieces, in the order in which they are pushed together; the first stays where it is."""
    along: Literal["x", "y", "z"]
    """The axis along which they are pushed."""
    glue: SupplyName
    makes: Text
    """The name of what they become."""
    clamp: Minutes | None = None
    around: PieceNames | None = None
    """Pieces that lie loose between them, in their place already, and are shut in: none of them is glued."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        place = self.where("pieces")
        pieces = [shop.dry(name, place) for name in self.pieces]
        supply = shop.supply(self.glue, self.where("glue"), "glue")
        placed, _ = brought_together(pieces, self.along, place, shop)
        before = glued_apart(placed, self.along)
        inner = laid_in(self.around or (), placed, self.where("around"), shop)
        return glued(self.KIND, pieces, placed, self.makes, supply, self.clamp, self.along, before, place, shop, inner)
