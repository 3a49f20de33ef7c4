"""Line the inside of a piece with felt, flock or leather."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from planbook.solids import FACE_FRAMES, Area, Frame, Solid, Vec3
from planbook.solids.frames import dot
from planbook.solids.plane import Point2
from planbook.workshop.fields import Face, PieceName, SupplyName
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Show, Shown, Treated, Use

ACROSS = 9
"""In so many places along and across a floor a picture may point at the lining."""
DEEP = 0.6
"""Those places lie at least this share of the deepest one's depth below the opening: lower walls are no floor."""


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
        spots = _deepest([_on_floor(piece.solid, frame, spot) for spot in _places(floor)], piece.solid, frame)
        made = reshaped(piece, piece.solid, shop, (Treated("hollow", "lined", shop.at, floor.size, supply.product),))
        left, bottom, right, top_edge = floor.bounds
        return Outcome(
            taken=(piece,),
            made=(made,),
            uses=(Use(supply.name, "lining", floor.size / 1e6, "m2"),),
            show=Show(self.opening, (Shown(made, "worked"),), (Cue("note", spots, piece.name, supply.name),)),
            hands_on=shop.minutes(self.KIND, floor.size / 1e6),
            settings=(("length", right - left), ("width", top_edge - bottom), ("area", floor.size)),
        )


def _places(floor: Area) -> list[Point2]:
    """The middle of a floor, and others for a picture in which a wall hides that; the nearest first."""
    left, bottom, right, top = floor.bounds
    shares = [(i + 0.5) / ACROSS for i in range(ACROSS)]
    others = [(left + a * (right - left), bottom + b * (top - bottom)) for a in shares for b in shares]
    inner = [point for point in others if floor.holds(point)]
    return [floor.middle, *sorted(inner, key=lambda point: math.dist(point, floor.middle))]


def _deepest(spots: Sequence[Vec3], solid: Solid, frame: Frame) -> tuple[Vec3, ...]:
    """Those of the places that lie deep below the opening."""
    level = solid.reach(frame.n)
    depths = [level - dot(spot, frame.n) for spot in spots]
    return tuple(spot for spot, depth in zip(spots, depths, strict=True) if depth >= DEEP * max(depths))


def _on_floor(solid: Solid, frame: Frame, spot: Point2) -> Vec3:
    """The point of the floor under a place of the opening."""
    reach = solid.reach(frame.n)
    depth = (solid.hits(frame.world(*spot, reach + 1), frame.world(*spot, reach - 500)) or [1.0])[0] - 1
    return frame.world(*spot, reach - depth)
