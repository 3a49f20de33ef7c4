"""Brush or wipe on a finish."""

from dataclasses import dataclass, replace
from typing import ClassVar

from planbook.model import FACES
from planbook.workshop.cutting import stacked_apart
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Count, PieceNames, SupplyName, Text
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Piece, Show, Treated, Use

RECOAT_MINUTES = 1440.0
"""Time between coats where the handbook has no row for the finish (common practice)."""


@dataclass(frozen=True, kw_only=True)
class Finish(Work):
    """Put a number of coats on pieces; the waits between the coats are counted, the last one dries afterwards."""

    KIND: ClassVar[str] = "finish"
    DRAWN: ClassVar[Drawn] = Drawn(weight=130, laid="one by one")

    pieces: PieceNames
    finish: SupplyName
    """The finish, by its name among the supplies."""
    coats: Count | None = None
    """How many coats; as many as the handbook says if left out."""
    leave_bare: Text = ""
    """In words, for the reader, what stays bare."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        place = self.where("pieces")
        pieces = [shop.dry(name, place) for name in self.pieces]
        supply = shop.supply(self.finish, self.where("finish"), "finish")
        row = shop.design.handbook.finish(supply.product)
        coats = self.coats or (row.coats if row else 1)
        between = row.recoat_minutes if row else RECOAT_MINUTES
        area = sum(p.solid.surface - sum(t.area for t in _masked(p)) for p in pieces) / 1e6
        hands_on = shop.minutes(self.KIND, area * coats)
        wet = shop.clock + hands_on + coats * between
        made = tuple(self._coated(p, supply.product, shop, wet) for p in pieces)
        return Outcome(
            taken=tuple(pieces),
            made=made,
            uses=(Use(supply.name, "finish", area * coats, "m2"),),
            show=Show("", stacked_apart([(p, "worked") for p in made], "x", 0.0)),
            hands_on=hands_on,
            wait=(coats - 1) * between,
            settings=(
                ("coats", coats),
                ("between coats", between),
                ("area", area * 1e6),
                ("bare", self.leave_bare),
            ),
        )

    def _coated(self, piece: Piece, product: str, shop: Shop, wet: float) -> Piece:
        bare = {t.face for t in _masked(piece)}
        faces = [face for face in FACES if face not in bare]
        share = (piece.solid.surface - sum(t.area for t in _masked(piece))) / max(1, len(faces))
        done = tuple(Treated(face, "finished", shop.at, share, product) for face in faces)
        return replace(reshaped(piece, piece.solid, shop, done), wet=wet)


def _masked(piece: Piece) -> tuple[Treated, ...]:
    """The faces under tape."""
    return tuple(t for t in piece.treated if t.how == "masked")
