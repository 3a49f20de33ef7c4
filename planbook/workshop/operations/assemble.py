"""Put finished pieces together without glue: they become the object."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Moves, PieceNames
from planbook.workshop.placing import drawn_out, placed, seen_from
from planbook.workshop.pushing import pushes
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Show
from planbook.workshop.ways_out import locked


@dataclass(frozen=True, kw_only=True)
class Assemble(Work):
    """Move pieces to their place in the object; `moves` says how far each one travels in x, y and z."""

    KIND: ClassVar[str] = "assemble"
    DRAWN: ClassVar[Drawn] = Drawn(weight=310, laid="moved")

    pieces: PieceNames
    moves: Moves | None = None

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        place = self.where("pieces")
        pieces = [shop.dry(name, place) for name in self.pieces]
        made = placed(pieces, self.moves, place, self.where("moves"), shop)
        shown = drawn_out(made, shop.parts, locked(made)) if shop.shown else ()
        return Outcome(
            taken=tuple(pieces),
            made=made,
            show=Show(seen_from(shown), shown, pushes(shown)),
            hands_on=shop.minutes(self.KIND, len(made) - 1),
            parts=tuple(p.name for p in made),
        )
