"""Bore holes, at the drill points of a stencil or at points measured on a face."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids import Frame, Solid
from planbook.solids.plane import circle
from planbook.solids.solid import cylinder, joined
from planbook.workshop.cutting import cut, span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Names, PieceName, Points, Positive, StencilName, ToolName
from planbook.workshop.pieces import face_frame, reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.spots import MEASURED_FROM, Spot
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Trouble, Use


@dataclass(frozen=True, kw_only=True)
class Bore(Work):
    """Bore with a drill: `stencil` (all its holes of the drill's size, or those in `holes`), or `face` and `at`."""

    KIND: ClassVar[str] = "bore"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=190, fastens="hole", follows="bored")

    piece: PieceName
    drill: ToolName
    stencil: StencilName | None = None
    """The stencil whose holes are bored, instead of `face` and `at`."""
    holes: Names | None = None
    """The holes of the stencil that are bored; all of the drill's size if left out."""
    face: Face | None = None
    """The face that is bored; the front if left out."""
    at: Points | None = None
    """Points on the face, to the right and up from `origin`."""
    origin: Literal["lower left", "lower right", "lower middle", "middle", "world"] = "lower left"
    """The point of the face from which `at` is measured."""
    depth: Positive | None = None
    """How deep from where the drill meets the wood; right through if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.drill, self.where("drill"), "drill")
        diameter = shop.number(tool.diameter.formula, tool.diameter.place) if tool.diameter else 0.0
        frame, spots, face = self._spots(piece, diameter, shop)
        low, high = span(piece.solid, frame)
        tops = {name: _top(piece.solid, frame, at, diameter / 2, high) for name, at in spots.items()}
        floors = {name: low - 1.0 if self.depth is None else top - float(self.depth) for name, top in tops.items()}
        troubles = [t for spot in spots.items() for t in self._doubts(piece, frame, *spot, diameter / 2, shop)]
        if self.depth is not None and min(floors.values()) <= low + 1e-9:
            room = min(tops.values()) - low
            raise snag("hole-too-deep", self.where("depth"), shop.at.step, piece=piece.name, depth=room)
        drills = {name: cylinder(frame, at, diameter / 2, floors[name], high + 1.0) for name, at in spots.items()}
        self._check_wood(piece.solid, drills, shop)
        if self.depth is not None:
            self._check_floors(piece, frame, [(spots[name], floor) for name, floor in floors.items()], shop)
        done = cut(piece, joined(drills.values()), "hole", self.where("drill"), shop)
        if len(done.parts) > 1:
            raise snag("hole-splits", self.where("holes", "stencil", "at"), shop.at.step, piece=piece.name)
        made = reshaped(piece, done.parts[0], shop)
        axes = tuple(
            Cue("drill axis", (frame.world(*at, tops[name] + 18), frame.world(*at, tops[name] - 6)), piece.name)
            for name, at in spots.items()
        )
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=done.lost,
            uses=(Use(tool.name, tool.kind, len(spots), "holes"),),
            show=Show(face, (Shown(made, "worked"),), axes),
            hands_on=shop.minutes(self.KIND, len(spots)),
            settings=(
                ("stencil", self.stencil or ""),
                ("holes", tuple(spots) if self.stencil else ()),
                ("diameter", diameter),
                ("depth", "through" if self.depth is None else float(self.depth)),
                ("at", () if self.stencil else tuple(spots.values())),
                ("measured from", "" if self.stencil else MEASURED_FROM[self.origin]),
            ),
            troubles=tuple(troubles),
        )

    def _spots(self, piece: Piece, diameter: float, shop: Shop) -> tuple[Frame, dict[str, tuple[float, float]], str]:
        if (self.stencil is None) == (self.at is None):
            raise snag("one-of-two", self.written.place, shop.at.step, fields=("stencil", "at"), operation=self.KIND)
        if self.at is not None:
            face = self.face or "front"
            frame = face_frame(piece, face, self.origin)
            return frame, {f"hole {i}": (float(u), float(v)) for i, (u, v) in enumerate(self.at, 1)}, face
        stuck = shop.stuck(piece, self.stencil or "", self.where("stencil"))
        names = self.holes or tuple(n for n, hole in stuck.holes.items() if abs(hole[2] - diameter) < 1e-6)
        for name in names:
            if name not in stuck.holes:
                facts = {"hole": name, "stencil": self.stencil, "known": tuple(stuck.holes)}
                raise snag("hole-unknown", self.where("holes"), shop.at.step, **facts)
            if abs(stuck.holes[name][2] - diameter) > 1e-6:
                where, asked = self.where("drill"), stuck.holes[name][2]
                facts = {"hole": name, "drill": self.drill}
                raise snag("drill-unfit", where, shop.at.step, asked=asked, diameter=diameter, **facts)
        if not names:
            raise snag("no-hole-of-size", self.where("drill"), shop.at.step, stencil=self.stencil, diameter=diameter)
        return stuck.frame, {n: stuck.holes[n][:2] for n in names}, stuck.stencil.face

    def _check_wood(self, solid: Solid, drills: dict[str, Solid], shop: Shop) -> None:
        for name, drill in drills.items():
            if solid.meet(drill).volume < 0.5:
                place = self.where("holes", "at", "stencil")
                raise snag("hole-misses", place, shop.at.step, piece=self.piece, hole=name)

    def _check_floors(self, piece: Piece, frame: Frame, floors: Iterable[tuple[Spot, float]], shop: Shop) -> None:
        """A hole with a depth has wood at the middle of its floor, or none there at all. Raises Snag."""
        _, high = span(piece.solid, frame)
        for (u, v), floor in floors:
            hits = piece.solid.hits(frame.world(u, v, high + 1.0), frame.world(u, v, floor))
            if hits and len(hits) % 2 == 0:
                depth = hits[-1] - hits[0]
                raise snag("hole-too-deep", self.where("depth"), shop.at.step, piece=piece.name, depth=depth)

    def _doubts(
        self, piece: Piece, frame: Frame, name: str, at: tuple[float, float], radius: float, shop: Shop
    ) -> list[Trouble]:
        """A hole that is not wholly in the wood breaks out of a side."""
        if circle(at, radius).within(piece.solid.shadow(frame)):
            return []
        facts = {"piece": piece.name, "hole": name, "at": at, "radius": radius}
        return [Trouble("hole-breaks-out", self.where("holes", "at", "stencil"), shop.at.step, facts)]


def _top(solid: Solid, frame: Frame, at: Spot, radius: float, high: float) -> float:
    """The highest place of the rim of a hole, mm along the normal of the face: there a depth stop touches.

    On a face that is curved it lies lower than the highest of the piece, which is `high`.
    """
    low, _ = span(solid, frame)
    around = [
        (at[0] + radius * math.cos(k * math.pi / 4), at[1] + radius * math.sin(k * math.pi / 4)) for k in range(8)
    ]
    hits = [solid.hits(frame.world(*spot, high + 1.0), frame.world(*spot, low - 1.0)) for spot in (at, *around)]
    return high + 1.0 - min((each[0] for each in hits if each), default=1.0)
