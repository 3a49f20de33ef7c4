"""Cut mortises: pockets with straight sides, or slots right through."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids import Area
from planbook.solids.plane import box, circle
from planbook.solids.solid import prism
from planbook.workshop.cutting import line_cue, span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Positive, ToolName
from planbook.workshop.limits import check_cutter, check_room
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.spots import AtPoints, Spot
from planbook.workshop.timeline import Show, Shown, Use

CUTTERS = ("router", "drill", "other")


@dataclass(frozen=True, kw_only=True)
class Mortise(AtPoints):
    """Cut pockets `length` by `width` about each point, the length across the face or up; without `depth`, through."""

    KIND: ClassVar[str] = "mortise"
    DRAWN: ClassVar[Drawn] = Drawn(weight=270)

    tool: ToolName
    length: Positive
    """How long each pocket is."""
    width: Positive
    """How wide each pocket is."""
    depth: Positive | None = None
    """How deep; right through if left out."""
    lie: Literal["across", "up"] = "across"
    """Whether the length lies across the face or up."""
    ends: Literal["square", "round"] = "square"
    """Whether the ends are chopped square or left round by the cutter."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.tool, self.where("tool"), *CUTTERS)
        length, width = float(self.length), float(self.width)
        check_cutter(tool, min(length, width), self.where("tool"), shop)
        frame, spots, face = self.spots(piece, shop)
        left, bottom, right, top = piece.solid.shadow(frame).bounds
        along, across = (right - left, top - bottom) if self.lie == "across" else (top - bottom, right - left)
        check_room(piece, self.KIND, "long", length, along, self.where("length"), shop)
        check_room(piece, self.KIND, "wide", width, across, self.where("width"), shop)
        low, high = span(piece.solid, frame)
        if self.depth is not None:
            check_room(piece, self.KIND, "deep", float(self.depth), high - low, self.where("depth"), shop)
        floor = low - 1 if self.depth is None else high - float(self.depth)
        slots = {name: self._slot(at) for name, at in spots.items()}
        cutters = {name: prism(slot, frame, floor, high + 1) for name, slot in slots.items()}
        on_face = frame.at(frame.world(0.0, 0.0, high))
        rims = {name: (slot, spots[name], width / 2) for name, slot in slots.items()}
        done = self.opened(piece, frame, cutters, rims, shop)
        return Outcome(
            taken=(piece,),
            made=(done.piece,),
            lost=done.lost,
            uses=(Use(tool.name, tool.kind, len(spots), "pieces"),),
            show=Show(
                face,
                (Shown(done.piece, "worked"),),
                tuple(line_cue(slot.rings[0], on_face, piece.name) for slot in slots.values()),
            ),
            hands_on=shop.minutes(self.KIND, len(spots)),
            settings=(
                ("stencil", self.stencil or ""),
                ("length", length),
                ("width", width),
                ("depth", "through" if self.depth is None else float(self.depth)),
                ("ends", "chopped square" if self.ends == "square" else "left round"),
                ("at", tuple(spots.values())),
            ),
            troubles=done.doubts,
        )

    def _slot(self, at: Spot) -> Area:
        """The opening on the face; round ends stay within the length."""
        du, dv = float(self.length), float(self.width)
        if self.lie == "up":
            du, dv = dv, du
        if self.ends == "square":
            return box(at[0] - du / 2, at[1] - dv / 2, du, dv)
        radius = min(du, dv) / 2
        u, v = du / 2 - radius, dv / 2 - radius
        if max(u, v) < 1e-9:
            return circle(at, radius)
        ends = [circle((at[0] + s * u, at[1] + s * v), radius) for s in (-1, 1)]
        half_u, half_v = (u, radius) if u > v else (radius, v)
        return box(at[0] - half_u, at[1] - half_v, 2 * half_u, 2 * half_v).plus(*ends)
