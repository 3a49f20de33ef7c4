"""Glue a plug or knob into a bored hole."""

from dataclasses import dataclass, replace
from fractions import Fraction
from math import cos, pi, sin
from typing import ClassVar, Literal

from planbook.solids import FACE_FRAMES, Frame, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Minutes, PieceName, Point, SupplyName
from planbook.workshop.gluing import cure_minutes
from planbook.workshop.joints import SNUG, join
from planbook.workshop.pieces import face_frame, moved, turned
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Use

DEEPEST = 400.0
ABOVE, LEAST = 1.0, 0.5
"""Rays start this far (mm) above the face, and a hole is at least this deep."""
RIM = 0.9
"""The floor is felt at this share of the plug's radius."""


@dataclass(frozen=True, kw_only=True)
class Plug(Work):
    """Push a round plug to the bottom of a hole at a point of a face, and glue it; the piece keeps its name."""

    KIND: ClassVar[str] = "plug"
    EACH: ClassVar[bool] = True
    MIRRORS: ClassVar[bool] = False
    GLUES_ON: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=320, laid="moved")

    piece: PieceName
    plug: PieceName
    """The plug."""
    face: Face
    """The face in which the hole is."""
    at: Point
    """The middle of the hole, to the right and up from `origin`."""
    glue: SupplyName
    origin: Literal["lower left", "lower right", "lower middle", "middle", "world"] = "lower left"
    """The point of the face from which `at` is measured."""
    clamp: Minutes = Fraction(0)
    """How long it is held while the glue takes hold; not at all if left out, for a plug sits in its hole by itself."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.open_to_glue(self.piece, self.where("piece", "pieces"))
        plug = shop.dry(self.plug, self.where("plug"))
        supply = shop.supply(self.glue, self.where("glue"), "glue")
        frame = face_frame(piece, self.face, self.origin)
        upright = _along(plug, frame.n)
        radius = min(e for e, n in zip(upright.solid.extent, frame.n, strict=True) if abs(n) < 0.5) / 2
        rest = self._rest(piece.solid, frame, radius, shop)
        floor = frame.world(float(self.at[0]), float(self.at[1]), -rest)
        low = -upright.solid.reach(negated(frame.n))
        middle = upright.solid.middle
        foot = plus(middle, times(frame.n, low - dot(middle, frame.n)))
        seated = moved(upright, plus(floor, negated(foot)))
        placed = replace(seated, solid=seated.solid.grown(SNUG))
        place = self.where("plug")
        minutes = float(self.clamp)
        hands_on = shop.minutes(self.KIND, 1)
        wet = max(piece.wet, shop.clock + hands_on + max(minutes, cure_minutes(supply, shop)))
        made, area = join(piece.name, [piece, placed], place, shop, wet)
        far = times(frame.n, max(placed.solid.extent) + 14)
        middle = placed.solid.middle
        tip = plus(middle, times(frame.n, placed.solid.reach(frame.n) - dot(middle, frame.n)))
        push = Cue("push", (plus(tip, times(frame.n, max(placed.solid.extent) + 16)), tip), placed.name)
        inside = min(rest, placed.solid.reach(frame.n) - dot(floor, frame.n))
        glue = Cue("glue face", (floor, plus(floor, times(frame.n, inside))), placed.name)
        return Outcome(
            taken=(piece, plug),
            made=(made,),
            uses=(Use(supply.name, "glue", area / 1e6, "m2"),),
            show=Show(self.face, (Shown(piece, "worked"), Shown(placed, "worked", far)), (push, glue)),
            hands_on=hands_on,
            wait=minutes,
            settings=(("at", self.at), ("mating area", area), ("clamp", minutes)),
        )

    def _rest(self, solid: Solid, frame: Frame, radius: float, shop: Shop) -> float:
        """How deep a plug comes to rest, mm: on the shallowest floor under it. Raises Snag if there is none.

        A screw hole in the floor does not swallow the plug: it rests on the rim.
        """
        u, v = float(self.at[0]), float(self.at[1])
        depth = _depth(solid, frame, u, v)
        if depth is None or depth < LEAST:
            raise snag("no-hole-there", self.where("at"), shop.at.step, piece=self.piece)
        turns = (k * pi / 4 for k in range(8))
        rim = [_depth(solid, frame, u + RIM * radius * cos(a), v + RIM * radius * sin(a)) for a in turns]
        return min([depth, *(each for each in rim if each is not None and each >= LEAST)])


def _depth(solid: Solid, frame: Frame, u: float, v: float) -> float | None:
    """How far below a face the wood begins at a point of it, mm; None where there is none."""
    above = frame.world(u, v, ABOVE)
    hits = solid.hits(above, plus(above, times(frame.n, -DEEPEST)))
    return hits[0] - ABOVE if hits else None


def _along(plug: Piece, normal: Vec3) -> Piece:
    """The plug turned so that its length lies along a normal: its axis is the odd one of its three extents."""
    x, y, z = plug.solid.extent
    odd = min(((abs(y - z), 0), (abs(x - z), 1), (abs(x - y), 2)))[1]
    axis = (FACE_FRAMES["right"].n, FACE_FRAMES["back"].n, FACE_FRAMES["top"].n)[odd]
    if abs(dot(axis, normal)) > 0.5:
        return plug
    about: Vec3 = (
        abs(axis[1] * normal[2] - axis[2] * normal[1]),
        abs(axis[2] * normal[0] - axis[0] * normal[2]),
        abs(axis[0] * normal[1] - axis[1] * normal[0]),
    )
    return turned(plug, about, 90.0, plug.solid.middle)
