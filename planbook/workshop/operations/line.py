"""Line the inside of a piece with felt, flock or leather."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import dist
from statistics import median
from typing import ClassVar

from planbook.model import Supply
from planbook.solids import FACE_FRAMES, Area, Frame, Path, Solid, Vec3
from planbook.solids.frames import OPPOSITE, dot, negated, times
from planbook.solids.plane import Point2, blank_area
from planbook.solids.solid import joined, prism
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, FaceNames, PieceName, SupplyName
from planbook.workshop.openings import places, wall_of
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Lined, Piece, Show, Shown, Treated, Use

ACROSS = 9
"""In so many places along and across a floor a picture may point at the lining."""
LEAST = 25.0
"""A smaller floor, mm2, is none."""
THICK = 0.2
"""What lies so near to the floor of a hollow as it is when it is lined, mm, is that floor."""
EDGE, CHORDS = 0.001, 96
"""A floor is measured along its surface up to so far before its ends, mm, where walls may stand straight, by so many
chords."""
BESIDE = 0.1
"""What is so much smaller than the largest part of a floor lies outside the walls: where they round off."""


@dataclass(frozen=True, kw_only=True)
class Line(Work):
    """Line the floor of a hollow: what is seen through the opening of a face, below its walls however high each is.

    With `walls`, line flat walls of the opening instead, such as the bottom on which a drawer runs.
    """

    KIND: ClassVar[str] = "line"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=140)

    piece: PieceName
    lining: SupplyName
    """The lining, by its name among the supplies."""
    opening: Face = "top"
    """The face through which the floor is seen."""
    walls: FaceNames | None = None
    """The walls of the opening that are lined instead of its floor, each by the face of the piece at which it lies."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        supply = shop.supply(self.lining, self.where("lining"), "lining")
        if self.walls:
            return self._walls(piece, supply, self.walls, shop)
        frame = FACE_FRAMES[self.opening]
        floor = floor_of(piece.solid, frame)
        if floor.size < LEAST:
            raise snag("no-hollow", self.where("opening", "piece"), shop.at.step, piece=piece.name, face=self.opening)
        made = reshaped(piece, piece.solid, shop, (Treated("hollow", "lined", shop.at, floor.size, supply.product),))
        if shop.shown:
            made = replace(made, lined=(*made.lined, lining_of(piece.solid, floor, frame)))
        return Outcome(
            taken=(piece,),
            made=(made,),
            uses=(Use(supply.name, "lining", floor.size / 1e6, "m2"),),
            show=self._show(made, floor, frame, supply.name) if shop.shown else None,
            hands_on=shop.minutes(self.KIND, floor.size / 1e6),
            settings=(("cut to", _laid_flat(piece.solid, floor, frame, shop)), ("area", floor.size)),
        )

    def _walls(self, piece: Piece, supply: Supply, walls: Sequence[str], shop: Shop) -> Outcome:
        """The outcome of lining walls of the opening. Raises Snag."""
        lined, cues, sizes, size = list[Lined](), list[Cue](), list[tuple[float, float]](), 0.0
        for wall in walls:
            area, level = wall_of(piece.solid, wall, self.opening)
            if area.size < LEAST:
                facts = {"piece": piece.name, "face": self.opening, "wall": wall}
                raise snag("no-hollow", self.where("walls"), shop.at.step, **facts)
            size += area.size
            sizes.append(_spanned(area))
            frame = FACE_FRAMES[OPPOSITE[wall]]
            lined.append(Lined(prism(area, frame, level - THICK, level + THICK), frame.n))
            spots = tuple(frame.world(u, v, level) for u, v in places(area, ACROSS))
            cues += [Cue("lining", spots, piece.name, self.opening), Cue("note", spots, piece.name, supply.name, wall)]
        made = reshaped(piece, piece.solid, shop, (Treated("hollow", "lined", shop.at, size, supply.product),))
        if shop.shown:
            made = replace(made, lined=(*made.lined, *lined))
        return Outcome(
            taken=(piece,),
            made=(made,),
            uses=(Use(supply.name, "lining", size / 1e6, "m2"),),
            show=Show(OPPOSITE[walls[0]], (Shown(made, "worked"),), tuple(cues)) if shop.shown else None,
            hands_on=shop.minutes(self.KIND, size / 1e6),
            settings=(*(("cut to", each) for each in sizes), ("area", size), ("walls", tuple(walls))),
        )

    def _show(self, made: Piece, floor: Area, frame: Frame, lining: str) -> Show:
        spots = tuple(_on_floor(made.solid, frame, spot) for spot in places(floor, ACROSS))
        cues = (Cue("lining", spots, made.name, self.opening), Cue("note", spots, made.name, lining))
        return Show(self.opening, (Shown(made, "worked"),), cues)


def floor_of(solid: Solid, frame: Frame) -> Area:
    """What of a solid, as a frame looks at it, lies deeper than half of its hollow.

    How deep that is tell most places below the rim, the highest flat face; other walls may be lower than that.
    """
    shadow = solid.shadow(frame)
    inside = shadow.minus(solid.face(frame))
    if inside.size < LEAST:
        return inside
    heights = [dot(_on_floor(solid, frame, spot), frame.n) for spot in places(inside, ACROSS)]
    walls, _ = solid.split(frame.n, (solid.reach(frame.n) + median(heights)) / 2)
    floor = inside.minus(walls.shadow(frame)).parts
    largest = max((part.size for part in floor), default=0.0)
    return blank_area().plus(*(part for part in floor if part.size > BESIDE * largest))


def lining_of(solid: Solid, floor: Area, frame: Frame) -> Lined:
    """The lining of a floor, which lies below all that is open to the face that a frame looks at."""
    top = solid.reach(frame.n)
    hollow = prism(floor, frame, -solid.reach(negated(frame.n)), top).minus(solid)
    space = joined([part for part in hollow.parts if part.reach(frame.n) > top - THICK])
    return Lined(space.moved(times(frame.n, -THICK)).minus(space.moved(times(frame.n, THICK))), frame.n)


def _spanned(area: Area) -> tuple[float, float]:
    """How long and how wide a lining is cut, mm, before its corners are: those of the box around what is lined."""
    left, bottom, right, top = area.bounds
    return right - left, top - bottom


def _laid_flat(solid: Solid, floor: Area, frame: Frame, shop: Shop) -> tuple[float, float]:
    """The same of a floor that may be curved, along its surface, mm; as it is seen where nothing is printed."""
    wide, high = _spanned(floor)
    if not shop.shown:
        return wide, high
    left, bottom, right, top = floor.bounds
    u, v = (left + right) / 2, (bottom + top) / 2
    return (
        max(wide, _along(solid, floor, frame, ((left, v), (right, v)))),
        max(high, _along(solid, floor, frame, ((u, bottom), (u, top)))),
    )


def _along(solid: Solid, floor: Area, frame: Frame, ends: tuple[Point2, Point2]) -> float:
    """How long the surface of a floor is under a line across it, mm."""
    found = 0.0
    for part in Path(ends).inside(floor.offset(-EDGE)):
        (au, av), (bu, bv) = part.points[0], part.points[-1]
        shares = [k / CHORDS for k in range(CHORDS + 1)]
        spots = [_on_floor(solid, frame, (au + (bu - au) * k, av + (bv - av) * k)) for k in shares]
        found += sum(dist(one, two) for one, two in pairwise(spots)) + 2 * EDGE
    return round(found, 2)


def _on_floor(solid: Solid, frame: Frame, spot: Point2) -> Vec3:
    """The point of the floor under a place of the opening."""
    reach = solid.reach(frame.n)
    depth = (solid.hits(frame.world(*spot, reach + 1), frame.world(*spot, reach - 500)) or [1.0])[0] - 1
    return frame.world(*spot, reach - depth)
