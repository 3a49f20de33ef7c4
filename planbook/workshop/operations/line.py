"""Line the inside of a piece with felt, flock or leather."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids import FACE_FRAMES
from planbook.workshop.fields import Face, PieceName, SupplyName
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Show, Shown, Treated, Use


@dataclass(frozen=True, kw_only=True)
class Line(Work):
    """Line the floor of a hollow: what is seen through the opening of a face and lies deeper than its rim."""

    KIND: ClassVar[str] = "line"
    EACH: ClassVar[bool] = True

    piece: PieceName
    lining: SupplyName
    """The lining, by its name among the supplies."""
    opening: Face = "top"
    """The face through which the floor is seen."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        supply = shop.supply(self.lining, self.where("lining"), "lining")
        frame = FACE_FRAMES[self.opening]
        rim = piece.solid.face(frame)
        floor = piece.solid.shadow(frame).minus(rim)
        if floor.size < 25:
            raise snag("no-hollow", self.where("opening", "piece"), shop.at.step, piece=piece.name, face=self.opening)
        u, v = floor.middle
        top = frame.world(u, v, piece.solid.reach(frame.n) + 1)
        end = frame.world(u, v, piece.solid.reach(frame.n) - 500)
        depth = (piece.solid.hits(top, end) or [1.0])[0] - 1
        spot = frame.world(u, v, piece.solid.reach(frame.n) - depth)
        made = reshaped(piece, piece.solid, shop, (Treated("hollow", "lined", shop.at, floor.size, supply.product),))
        left, bottom, right, top_edge = floor.bounds
        return Outcome(
            taken=(piece,),
            made=(made,),
            uses=(Use(supply.name, "lining", floor.size / 1e6, "m2"),),
            show=Show(self.opening, (Shown(made, "worked"),), (Cue("note", (spot,), piece.name, supply.name),)),
            hands_on=shop.minutes(self.KIND, floor.size / 1e6),
            settings=(("length", right - left), ("width", top_edge - bottom), ("area", floor.size)),
        )
