"""Bore holes, at the drill points of a stencil or at points measured on a face."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from planbook.solids import Frame, Solid
from planbook.solids.plane import circle
from planbook.solids.solid import cylinder, joined
from planbook.workshop.cutting import cut, span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Names, Positive, ToolName
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.snags import snag
from planbook.workshop.spots import AtPoints, Spot, axes, diameter_of
from planbook.workshop.timeline import Piece, Show, Shown, Trouble, Use

LONG = 60.0
"""How deep a hole right through is, mm, is told from here on: not every drill is so long (common practice)."""


@dataclass(frozen=True, kw_only=True)
class Bore(AtPoints):
    """Bore with a drill: `stencil` (all its holes of the drill's size, or those in `holes`), or `face` and `at`."""

    KIND: ClassVar[str] = "bore"
    DRAWN: ClassVar[Drawn] = Drawn(weight=190, fastens="hole", follows="bored")

    drill: ToolName
    holes: Names | None = None
    """The holes of the stencil that are bored; all of the drill's size if left out."""
    face: Face | None = None
    """The face that is bored; the front if left out."""
    depth: Positive | None = None
    """How deep from where the drill meets the wood; right through if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.drill, self.where("drill"), "drill")
        diameter = diameter_of(tool, shop)
        frame, spots, face = self._spots(piece, diameter, shop)
        low, high = span(piece.solid, frame)
        tops = self.tops(piece, frame, spots, diameter / 2)
        far = max(tops.values()) - low
        floors = {name: low - 1.0 if self.depth is None else top - float(self.depth) for name, top in tops.items()}
        troubles = [t for spot in spots.items() for t in self._doubts(piece, frame, *spot, diameter / 2, shop)]
        if self.depth is not None:
            self.check_depth(piece, float(self.depth), min(tops.values()) - low, "depth", shop)
        drills = {name: cylinder(frame, at, diameter / 2, floors[name], high + 1.0) for name, at in spots.items()}
        self._check_wood(piece.solid, drills, shop)
        if self.depth is not None:
            self._check_floors(piece, frame, [(spots[name], floor) for name, floor in floors.items()], shop)
        done = cut(piece, joined(drills.values()), "hole", self.where("drill"), shop)
        if len(done.parts) > 1:
            raise snag("hole-splits", self.where("holes", "stencil", "at"), shop.at.step, piece=piece.name)
        made = reshaped(piece, done.parts[0], shop)
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=done.lost,
            uses=(Use(tool.name, tool.kind, len(spots), "holes"),),
            show=Show(face, (Shown(made, "worked"),), axes(frame, spots, tops, piece.name)),
            hands_on=shop.minutes(self.KIND, len(spots)),
            settings=(
                ("diameter", diameter),
                ("depth", "through" if self.depth is None else float(self.depth)),
                ("depth of cut", far if self.depth is None and far > LONG else None),
                *self.told(face, spots),
            ),
            troubles=tuple(troubles),
        )

    def _spots(self, piece: Piece, diameter: float, shop: Shop) -> tuple[Frame, dict[str, Spot], str]:
        """The points as `spots` finds them; of a stencil those of the drill's size. Raises Snag."""
        frame, spots, face = self.spots(piece, shop)
        if self.stencil is None:
            return frame, spots, face
        wide = {name: hole[2] for name, hole in shop.stuck(piece, self.stencil, self.where("stencil")).holes.items()}
        unfit = [name for name in spots if abs(wide[name] - diameter) > 1e-6]
        if self.holes and unfit:
            facts = {"hole": unfit[0], "drill": self.drill, "asked": wide[unfit[0]], "diameter": diameter}
            raise snag("drill-unfit", self.where("drill"), shop.at.step, **facts)
        fit = {name: at for name, at in spots.items() if name not in unfit}
        if not fit:
            raise snag("no-hole-of-size", self.where("drill"), shop.at.step, stencil=self.stencil, diameter=diameter)
        return frame, fit, face

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
