"""Glue milled boards into a blank."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Minutes, PieceNames, SupplyName, Text
from planbook.workshop.glue_apart import glued_apart
from planbook.workshop.gluing import glued, laid_in
from planbook.workshop.shop import Outcome, Shop, Work


@dataclass(frozen=True, kw_only=True)
class GlueUp(Work):
    """Glue boards that lie against one another into one blank, each keeping its own wood and grain."""

    KIND: ClassVar[str] = "glue up"
    DRAWN: ClassVar[Drawn] = Drawn(weight=340, laid="moved")

    pieces: PieceNames
    glue: SupplyName
    makes: Text
    """The name of what they become."""
    along: Literal["x", "y", "z"] = "y"
    """The axis along which the clamps press."""
    clamp: Minutes | None = None
    around: PieceNames | None = None
    """Pieces that lie loose between them, in their place already, and are shut in: none of them is glued."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        place = self.where("pieces")
        pieces = [shop.dry(name, place) for name in self.pieces]
        supply = shop.supply(self.glue, self.where("glue"), "glue")
        before = glued_apart(pieces, self.along)
        inner = laid_in(self.around or (), pieces, self.where("around"), shop)
        return glued(self.KIND, pieces, pieces, self.makes, supply, self.clamp, self.along, before, place, shop, inner)
