"""Peel a stencil off."""

from dataclasses import dataclass, replace
from typing import ClassVar

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import PieceName, StencilName
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Show, Shown


@dataclass(frozen=True, kw_only=True)
class Peel(Work):
    """Take a stencil off the piece it is stuck on."""

    KIND: ClassVar[str] = "peel"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=40)

    piece: PieceName
    stencil: StencilName

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.piece(self.piece, self.where("piece", "pieces"))
        stuck = shop.stuck(piece, self.stencil, self.where("stencil"))
        left = tuple(s for s in piece.stuck if s is not stuck)
        made = replace(reshaped(piece, piece.solid, shop), stuck=left)
        return Outcome(
            taken=(piece,),
            made=(made,),
            show=Show(stuck.stencil.face, (Shown(made, "worked"),)),
            hands_on=shop.minutes(self.KIND, 1, untabled=2.0),
            settings=(("stencil", self.stencil),),
        )
