"""Holes at the points of a stencil or of a face, whatever their section; knows no operation by name."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.model import Tool
from planbook.solids import Area, Frame, Solid
from planbook.solids.plane import blank_area
from planbook.solids.solid import joined
from planbook.text import Place
from planbook.workshop.cutting import BARE, cut, span
from planbook.workshop.fields import Face, Names, PieceName, Points, StencilName
from planbook.workshop.pieces import face_frame, reshaped
from planbook.workshop.shop import Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Lost, Piece, Trouble

Spot = tuple[float, float]
Rim = tuple[Area, Spot, float]
"""An opening on a face: its area, its middle, and half its width in mm."""


@dataclass(frozen=True, eq=False)
class Bored:
    """A piece with its openings cut: the wood lost, and doubts about openings that break out of a side."""

    piece: Piece
    lost: tuple[Lost, ...]
    doubts: tuple[Trouble, ...]


ABOVE = 18.0
"""The axis of a hole is drawn from so far above the face, mm."""
AROUND = (8.0, 5.0, 2.0, 0.0)
"""So far about a point is felt for the wood, mm: the first all around where it is level, since a hole may be there."""
LEVEL = 0.2
"""Wood that differs in height by less than this is level, mm."""
_TURNS = tuple(k * math.pi / 4 for k in range(8))
MEASURED_FROM = {
    "lower left": "the lower left corner",
    "lower right": "the lower right corner",
    "lower middle": "the middle of the lower edge",
    "middle": "the middle of the face",
    "world": "the zero point of the design",
}


@dataclass(frozen=True, kw_only=True)
class AtPoints(Work):
    """Work at points: the holes of a `stencil` (all, or those in `holes`), or points `at` measured on a `face`."""

    EACH: ClassVar[bool] = True

    piece: PieceName
    stencil: StencilName | None = None
    """The stencil whose holes are meant, instead of `face` and `at`."""
    holes: Names | None = None
    """The holes of the stencil that are meant; all of them if left out."""
    face: Face | None = None
    at: Points | None = None
    """Points on the face, to the right and up from `origin`."""
    origin: Literal["lower left", "lower right", "lower middle", "middle", "world"] = "lower left"
    """The point of the face from which `at` is measured."""

    def spots(self, piece: Piece, shop: Shop) -> tuple[Frame, dict[str, Spot], str]:
        """The face's frame, the points by name, and the name of the face. Raises Snag."""
        if (self.stencil is None) == (self.at is None):
            both = ("stencil", "at")
            raise snag("one-of-two", self.written.place, shop.at.step, fields=both, operation=self.KIND)
        if self.at is not None:
            face = self.face or "front"
            named = {f"hole {i}": (float(u), float(v)) for i, (u, v) in enumerate(self.at, 1)}
            return face_frame(piece, face, self.origin), named, face
        stuck = shop.stuck(piece, self.stencil or "", self.where("stencil"))
        names = self.holes or tuple(stuck.holes)
        for name in names:
            if name not in stuck.holes:
                known, place = tuple(stuck.holes), self.where("holes")
                raise snag("hole-unknown", place, shop.at.step, hole=name, stencil=self.stencil, known=known)
        return stuck.frame, {name: stuck.holes[name][:2] for name in names}, stuck.stencil.face

    def told(self, face: str, spots: Mapping[str, Spot]) -> tuple[tuple[str, object], ...]:
        """Where the points are, as settings: the names on a stencil, or the places on the face."""
        if self.stencil is not None:
            return (("stencil", self.stencil), ("holes", tuple(spots)))
        return (("face", face), ("at", tuple(spots.values())), ("measured from", MEASURED_FROM[self.origin]))

    def opened(
        self, piece: Piece, frame: Frame, cutters: Mapping[str, Solid], rims: Mapping[str, Rim], shop: Shop
    ) -> Bored:
        """The piece without the cutters' wood. Raises Snag."""
        return bored(piece, frame, cutters, rims, self.where("holes", "at", "stencil"), shop)

    def tops(self, piece: Piece, frame: Frame, spots: Mapping[str, Spot], radius: float) -> dict[str, float]:
        """From where the depth of each hole counts, mm along the normal of the face; see `top_at`."""
        return {name: top_at(piece.solid, frame, at, radius) for name, at in spots.items()}

    def check_depth(self, piece: Piece, depth: float, room: float, field: str, shop: Shop) -> None:
        """Raise Snag where a depth goes right through."""
        if depth >= room - 1e-9:
            raise snag("hole-too-deep", self.where(field), shop.at.step, piece=piece.name, depth=room)


def bored(
    piece: Piece, frame: Frame, cutters: Mapping[str, Solid], rims: Mapping[str, Rim], place: Place, shop: Shop
) -> Bored:
    """Take the cutters' wood from a piece. Raises Snag where one meets no wood, or the piece falls apart."""
    for name, cutter in cutters.items():
        if piece.solid.meet(cutter).volume < BARE:
            raise snag("hole-misses", place, shop.at.step, piece=piece.name, hole=name)
    done = cut(piece, joined(cutters.values()), "hole", place, shop)
    if len(done.parts) > 1:
        raise snag("hole-splits", place, shop.at.step, piece=piece.name)
    # Holes that are there already are filled: a screw head is sunk over one, a mortise is often bored first.
    filled = blank_area().plus(*piece.solid.shadow(frame).outers)
    doubts = []
    for name, (area, at, radius) in rims.items():
        if not area.within(filled):
            facts = {"piece": piece.name, "hole": name, "at": at, "radius": radius}
            doubts.append(Trouble("hole-breaks-out", place, shop.at.step, facts))
    return Bored(reshaped(piece, done.parts[0], shop), done.lost, tuple(doubts))


def top_at(solid: Solid, frame: Frame, at: Spot, radius: float) -> float:
    """The highest place of the rim of a hole and of its middle, mm along the normal of the face: there a depth stop
    touches. On a face that is curved or stepped it lies lower than the highest of the piece; where nothing is
    met it is that.
    """
    return max(_felt(solid, frame, at, radius), default=span(solid, frame)[1])


def level_at(solid: Solid, frame: Frame, at: Spot) -> float | None:
    """The same where the wood about a point is level all around; None where none lies level."""
    for radius in AROUND:
        felt = _felt(solid, frame, at, radius, middle=False)
        if len(felt) == len(_TURNS) and max(felt) - min(felt) < LEVEL:
            return max(felt)
    return None


def _felt(solid: Solid, frame: Frame, at: Spot, radius: float, *, middle: bool = True) -> list[float]:
    """How high the wood lies around a point (and at it), as seen on a face, mm along its normal: what is met."""
    low, high = span(solid, frame)
    rim = [(at[0] + radius * math.cos(a), at[1] + radius * math.sin(a)) for a in _TURNS]
    spots = [at, *rim] if middle else rim
    hits = [solid.hits(frame.world(*p, high + 1), frame.world(*p, low - 1)) for p in spots]
    return [high + 1 - each[0] for each in hits if each]


def diameter_of(tool: Tool, shop: Shop) -> float:
    """The diameter of a drill or cutter, mm; 0 where the design gives none."""
    return shop.number(tool.diameter.formula, tool.diameter.place) if tool.diameter else 0.0


def axes(frame: Frame, spots: Mapping[str, Spot], tops: Mapping[str, float], piece: str) -> tuple[Cue, ...]:
    """The axes of holes as they are drawn, from above the wood, which is so high at each, into it."""
    return tuple(
        Cue("drill axis", (frame.world(*at, tops[name] + ABOVE), frame.world(*at, tops[name] - 6)), piece)
        for name, at in spots.items()
    )
