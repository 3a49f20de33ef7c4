"""Fit hardware: screws, hinges, feet, magnets; pilot holes and recesses are bored, the hardware is counted."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids.plane import circle
from planbook.solids.solid import cylinder
from planbook.workshop.cutting import span
from planbook.workshop.fields import Count, Positive, SupplyName, ToolName
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.snags import snag
from planbook.workshop.spots import AtPoints, Bored, axes, diameter_of
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Use


@dataclass(frozen=True, kw_only=True)
class FitHardware(AtPoints):
    """Fit `hardware` at points, one to each or `count` in all, in holes of `drill` to a `depth`, with `screws`."""

    KIND: ClassVar[str] = "fit hardware"

    hardware: SupplyName
    drill: ToolName | None = None
    depth: Positive | None = None
    screws: SupplyName | None = None
    count: Count | None = None

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        hardware = shop.supply(self.hardware, self.where("hardware"), "hardware")
        frame, spots, face = self.spots(piece, shop)
        _, high = span(piece.solid, frame)
        if (self.drill is None) != (self.depth is None):
            missing = "depth" if self.drill else "drill"
            facts = {"field": missing, "what": "tool" if missing == "drill" else "length", "operation": self.KIND}
            raise snag("missing-field", self.written.place, shop.at.step, **facts)
        count = self.count or len(spots)
        uses = [Use(hardware.name, "hardware", count, "pieces")]
        if self.screws:
            screws = shop.supply(self.screws, self.where("screws"), "hardware")
            uses.append(Use(screws.name, "hardware", len(spots), "pieces"))
        done, diameter = Bored(piece, (), ()), 0.0
        if self.drill and self.depth is not None:
            tool = shop.tool(self.drill, self.where("drill"), "drill")
            diameter = diameter_of(tool, shop)
            uses.append(Use(tool.name, tool.kind, len(spots), "holes"))
            done = self._holes(piece, diameter, shop)
        else:
            self._check_wood(piece, shop)
        label = Cue("note", (frame.world(*next(iter(spots.values())), high),), piece.name, hardware.name)
        return Outcome(
            taken=(piece,),
            made=(done.piece,),
            lost=done.lost,
            uses=tuple(uses),
            show=Show(face, (Shown(done.piece, "worked"),), (*axes(frame, spots, high, piece.name), label)),
            hands_on=shop.minutes(self.KIND, count),
            settings=(
                ("stencil", self.stencil or ""),
                ("hardware", hardware.name),
                ("count", count),
                ("diameter", diameter),
                ("depth", float(self.depth or 0)),
                ("at", tuple(spots.values())),
            ),
            troubles=done.doubts,
        )

    def _holes(self, piece: Piece, diameter: float, shop: Shop) -> Bored:
        frame, spots, _ = self.spots(piece, shop)
        low, high = span(piece.solid, frame)
        depth = float(self.depth or 0)
        self.check_depth(piece, depth, high - low, "depth", shop)
        cutters = {n: cylinder(frame, at, diameter / 2, high - depth, high + 1) for n, at in spots.items()}
        rims = {n: (circle(at, diameter / 2), at, diameter / 2) for n, at in spots.items()}
        return self.opened(piece, frame, cutters, rims, shop)

    def _check_wood(self, piece: Piece, shop: Shop) -> None:
        frame, spots, _ = self.spots(piece, shop)
        face = piece.solid.face(frame)
        for name, at in spots.items():
            if not face.holds(at):
                place = self.where("holes", "at", "stencil")
                raise snag("hole-misses", place, shop.at.step, piece=piece.name, hole=name)
