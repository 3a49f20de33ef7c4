"""Set pieces aside for later, or keep them on purpose."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.cutting import stacked_apart
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import PieceNames
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Show


@dataclass(frozen=True, kw_only=True)
class SetAside(Work):
    """Put pieces away; they may be used later, and if they are not, they were kept on purpose."""

    KIND: ClassVar[str] = "set aside"
    DRAWN: ClassVar[Drawn] = Drawn(weight=30)

    pieces: PieceNames

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        pieces = tuple(shop.piece(name, self.where("pieces")) for name in self.pieces)
        return Outcome(
            show=Show("front", stacked_apart([(p, "context") for p in pieces], "x")),
            kept=self.pieces,
        )
