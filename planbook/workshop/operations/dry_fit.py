"""Try pieces together without glue, to see that they fit."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Moves, PieceNames
from planbook.workshop.placing import drawn_out, placed, seen_from
from planbook.workshop.pushing import pushes
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Show


@dataclass(frozen=True, kw_only=True)
class DryFit(Work):
    """Hold pieces together where they belong (`moves` as for an assembly): they must not be in each other's way."""

    KIND: ClassVar[str] = "dry fit"
    DRAWN: ClassVar[Drawn] = Drawn(weight=160, laid="together")

    pieces: PieceNames
    moves: Moves | None = None

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        place = self.where("pieces")
        pieces = [shop.dry(name, place) for name in self.pieces]
        made = placed(pieces, self.moves, place, self.where("moves"), shop)
        shown = drawn_out(made) if shop.shown else ()
        return Outcome(
            taken=tuple(pieces),
            made=made,
            show=Show(seen_from(shown) or "front", shown, pushes(shown)),
            hands_on=shop.minutes(self.KIND, len(made)),
        )
