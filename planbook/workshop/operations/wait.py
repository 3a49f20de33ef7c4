"""Wait, for glue to cure or finish to dry."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.cutting import stacked_apart
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Minutes, PieceNames
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Show


@dataclass(frozen=True, kw_only=True)
class Wait(Work):
    """Let time pass: a stated time, or until the pieces named in `dry` have cured."""

    KIND: ClassVar[str] = "wait"
    DRAWN: ClassVar[Drawn] = Drawn(weight=20)

    time: Minutes | None = None
    """A stated time, instead of `dry`."""
    dry: PieceNames | None = None
    """The pieces that must have cured or dried."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        if (self.time is None) == (self.dry is None):
            raise snag("one-of-two", self.written.place, shop.at.step, fields=("time", "dry"), operation=self.KIND)
        pieces = [shop.piece(name, self.where("dry")) for name in self.dry or ()]
        minutes = float(self.time or 0) if not pieces else max(0.0, *(p.wet - shop.clock for p in pieces))
        show = Show("front", stacked_apart([(p, "context") for p in pieces], "x", 0.0)) if pieces else None
        return Outcome(show=show, wait=minutes, settings=(("wait", minutes),))
