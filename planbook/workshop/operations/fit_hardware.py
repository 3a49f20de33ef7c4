"""Fit hardware: screws, hinges, feet, magnets; recesses are cut, pilot holes are bored, the hardware is counted."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.model import Tool
from planbook.solids import Area, Frame, Solid
from planbook.solids.plane import blank_area, box, circle
from planbook.solids.solid import cylinder, prism
from planbook.workshop.cutting import line_cue, span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Count, Offsets, Point, Positive, SupplyName, ToolName
from planbook.workshop.limits import check_cutter
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.snags import snag
from planbook.workshop.spots import AtPoints, Bored, Rim, Spot, axes, diameter_of, level_at
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Use

CUTTERS = ("router", "plane", "other")
"""What a recess for a hinge is cut with; a chisel is an "other" tool."""


@dataclass(frozen=True, kw_only=True)
class FitHardware(AtPoints):
    """Fit `hardware` at points, one to each or `count` in all, in holes of `drill` to a `depth`, with `screws`.

    A `recess` (across and up, about each point) is cut `recess_depth` deep with `tool`; it may run out of an edge, as
    that of a hinge does. The holes are at the points, or at `screw_holes` measured from each of them.
    """

    KIND: ClassVar[str] = "fit hardware"
    DRAWN: ClassVar[Drawn] = Drawn(weight=220, laid="moved", fastens="hardware")

    hardware: SupplyName
    """What is fitted, by its name among the supplies."""
    drill: ToolName | None = None
    """The drill for its holes; none if left out."""
    depth: Positive | None = None
    """How deep the holes become."""
    screws: SupplyName | None = None
    """The screws that hold it, by their name among the supplies."""
    screw_holes: Offsets | None = None
    """Where the holes are, measured from each point; at the points themselves if left out."""
    recess: Point | None = None
    """How far a recess about each point reaches, across and up."""
    recess_depth: Positive | None = None
    """How deep the recess becomes."""
    tool: ToolName | None = None
    """The tool that cuts the recess."""
    count: Count | None = None
    """How many are fitted in all; one at each point if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        hardware = shop.supply(self.hardware, self.where("hardware"), "hardware")
        self._check_together(("drill", "depth"), shop)
        self._check_together(("recess", "recess_depth", "tool"), shop)
        if self.screw_holes and not self.drill:
            self._lacks("drill", shop)
        frame, spots, face = self.spots(piece, shop)
        _, high = span(piece.solid, frame)
        holes = self._holes(spots)
        drill = shop.tool(self.drill, self.where("drill"), "drill") if self.drill else None
        cutter = shop.tool(self.tool, self.where("tool"), *CUTTERS) if self.tool else None
        radius = diameter_of(drill, shop) / 2 if drill else 0.0
        bored = self.tops(piece, frame, holes, radius) if not self.recess else {}
        done = self._cut(piece, frame, spots, radius, bored, cutter, shop)
        count = self.count or len(spots)
        marked = holes if holes or self.recess else spots
        levels = self._levels(piece, frame, marked, bored, high, shop)
        on = tuple(frame.world(*at, levels.get(name, high)) for name, at in spots.items())
        label = Cue("note", on, piece.name, hardware.name)
        return Outcome(
            taken=(piece,),
            made=(done.piece,),
            lost=done.lost,
            uses=self._uses(hardware.name, drill, cutter, count, len(spots), len(holes), shop),
            show=Show(
                face,
                (Shown(done.piece, "worked"),),
                (
                    *self._rims(frame, spots, high, piece.name),
                    *axes(frame, marked, {name: levels.get(name, high) for name in marked}, piece.name),
                    label,
                ),
            ),
            hands_on=shop.minutes(self.KIND, 2 * count if self.recess else count),
            settings=(
                ("hardware", hardware.name),
                ("count", count),
                ("recess", tuple(float(s) for s in self.recess or ())),
                ("depth of the recess", float(self.recess_depth or 0)),
                ("diameter", diameter_of(drill, shop) if drill else 0.0),
                ("depth", float(self.depth or 0)),
                *self.told(face, spots),
                ("screw holes", tuple((float(u), float(v)) for u, v in self.screw_holes or ())),
            ),
            troubles=done.doubts,
        )

    def _check_together(self, names: tuple[str, ...], shop: Shop) -> None:
        """Raise Snag where some of the fields that need each other are there and one is not."""
        there = [name for name in names if getattr(self, name) is not None]
        if there and len(there) < len(names):
            self._lacks(next(name for name in names if name not in there), shop)

    def _lacks(self, field: str, shop: Shop) -> None:
        what = {"drill": "tool", "tool": "tool", "recess": "point"}.get(field, "length")
        facts = {"field": field, "what": what, "operation": self.KIND}
        raise snag("missing-field", self.written.place, shop.at.step, **facts)

    def _holes(self, spots: dict[str, Spot]) -> dict[str, Spot]:
        """Where the holes are bored; nowhere without a drill."""
        if not self.drill:
            return {}
        offsets = [(float(u), float(v)) for u, v in self.screw_holes or ()]
        if not offsets:
            return spots
        return {
            f"{name}, screw {k}": (at[0] + u, at[1] + v)
            for name, at in spots.items()
            for k, (u, v) in enumerate(offsets, 1)
        }

    def _cut(
        self,
        piece: Piece,
        frame: Frame,
        spots: dict[str, Spot],
        radius: float,
        tops: dict[str, float],
        cutter: Tool | None,
        shop: Shop,
    ) -> Bored:
        """Cut the recesses, and bore the holes from their floors, or from the `tops` of the wood."""
        low, high = span(piece.solid, frame)
        floor = high - float(self.recess_depth or 0)
        if cutter and self.recess:
            self._check_recess(piece, high - low, cutter, shop)
        if self.drill:
            lowest = min(tops.values(), default=floor)
            self.check_depth(piece, high - lowest + float(self.depth or 0), high - low, "depth", shop)
        cutters: dict[str, Solid] = {}
        rims: dict[str, Rim] = {}
        for name, at in self._holes(spots).items():
            cutters[name] = cylinder(frame, at, radius, tops.get(name, floor) - float(self.depth or 0), high + 1)
            rims[name] = (circle(at, radius), at, radius)
        for name, at in spots.items() if self.recess else ():
            cutters[f"recess {name}"] = prism(self._leaf(at), frame, floor, high + 1)
        if cutters:
            return self.opened(piece, frame, cutters, rims, shop)
        return Bored(piece, (), ())

    def _check_recess(self, piece: Piece, room: float, cutter: Tool, shop: Shop) -> None:
        across, up = (float(s) for s in self.recess or (0, 0))
        if min(across, up) <= 0:
            raise snag("not-positive", self.where("recess"), shop.at.step, field="recess", value=min(across, up))
        check_cutter(cutter, min(across, up), self.where("tool"), shop)
        self.check_depth(piece, float(self.recess_depth or 0), room, "recess_depth", shop)

    def _leaf(self, at: Spot) -> Area:
        """The recess about a point, as it lies on the face."""
        across, up = (float(s) for s in self.recess or (0, 0))
        return box(at[0] - across / 2, at[1] - up / 2, across, up)

    def _rims(self, frame: Frame, spots: dict[str, Spot], high: float, piece: str) -> tuple[Cue, ...]:
        if not self.recess:
            return ()
        on_face = frame.at(frame.world(0.0, 0.0, high))
        return tuple(line_cue(self._leaf(at).rings[0], on_face, piece) for at in spots.values())

    def _uses(
        self, hardware: str, drill: Tool | None, cutter: Tool | None, count: int, points: int, holes: int, shop: Shop
    ) -> tuple[Use, ...]:
        uses = [Use(hardware, "hardware", count, "pieces")]
        if self.screws:
            screws = shop.supply(self.screws, self.where("screws"), "hardware")
            uses.append(Use(screws.name, "hardware", holes or points, "pieces"))
        if drill:
            uses.append(Use(drill.name, drill.kind, holes, "holes"))
        if cutter:
            uses.append(Use(cutter.name, cutter.kind, points, "pieces"))
        return tuple(uses)

    def _levels(
        self, piece: Piece, frame: Frame, spots: dict[str, Spot], tops: dict[str, float], high: float, shop: Shop
    ) -> dict[str, float]:
        """How high the wood is at each point as a reader sees it. Raises Snag where hardware alone lies on none.

        A hole that is there already takes a screw, so holes in the face count as wood: drills come in by their mouths.
        """
        if self.recess:
            return {}
        face = blank_area().plus(*piece.solid.face(frame).outers)
        found: dict[str, float] = {}
        for name, at in spots.items():
            level = high if face.holds(at) else tops[name] if self.drill else level_at(piece.solid, frame, at)
            if level is None:
                place = self.where("holes", "at", "stencil")
                raise snag("hole-misses", place, shop.at.step, piece=piece.name, hole=name)
            found[name] = level
        return found
