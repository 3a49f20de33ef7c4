"""Throw pieces away on purpose."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.cutting import laid_apart
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import PieceNames
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Show


@dataclass(frozen=True, kw_only=True)
class Discard(Work):
    """Throw pieces away; they cannot be used any more."""

    KIND: ClassVar[str] = "discard"
    DRAWN: ClassVar[Drawn] = Drawn(weight=10)

    pieces: PieceNames

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        pieces = tuple(shop.piece(name, self.where("pieces")) for name in self.pieces)
        return Outcome(
            taken=pieces,
            show=Show("front", laid_apart([(p, "waste") for p in pieces], "x")),
            discarded=self.pieces,
        )
