"""Channels cut into a face parallel to an edge: grooves, dados and rabbets; knows none of them by name."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids import FACE_FRAMES, Area, Vec3
from planbook.solids.frames import dot, negated
from planbook.solids.plane import box
from planbook.solids.solid import prism
from planbook.workshop.cutting import cut, line_cue, span
from planbook.workshop.fields import Face, PieceName, Positive, Stops, ToolName
from planbook.workshop.grain import doubted
from planbook.workshop.limits import check_cutter, check_edge, check_room
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.spots import diameter_of
from planbook.workshop.timeline import Piece, Show, Shown, Trouble, Use

CUTTERS = ("router", "table saw", "hand saw", "plane", "other")
OVER = 1.0
"""How far (mm) the cutter runs out of the wood."""


@dataclass(frozen=True, kw_only=True)
class Channel(Work):
    """A channel `width` wide and `depth` deep in a `face`; `stops` keep it away from its two ends."""

    EACH: ClassVar[bool] = True

    piece: PieceName
    face: Face
    tool: ToolName
    width: Positive
    """How wide."""
    depth: Positive
    stops: Stops | None = None
    """How far it stays away from its two ends; from end to end if left out."""
    ends: Literal["square", "round"] = "square"
    """Whether stopped ends are chopped square or left as round as the cutter is."""

    def start(self, edges: Sequence[str], shop: Shop) -> Piece:
        """The piece, checked against what is asked of it. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        for edge in edges:
            check_edge(self.face, edge, self.where("edge", "edges"), shop)
        low, high = span(piece.solid, FACE_FRAMES[self.face])
        check_room(piece, self.KIND, "deep", float(self.depth), high - low, self.where("depth"), shop)
        tool = shop.tool(self.tool, self.where("tool"), *CUTTERS)
        check_cutter(tool, float(self.width), self.where("tool"), shop)
        return piece

    def strip(self, piece: Piece, edge: str, near: float, shop: Shop) -> Area:
        """The channel on the face, from `near` mm inside an edge, in the world's (u, v). Raises Snag."""
        frame, width = FACE_FRAMES[self.face], float(self.width)
        left, bottom, right, top = piece.solid.shadow(frame).bounds
        upright = abs(dot(FACE_FRAMES[edge].n, frame.u)) > 0.5
        across, long = (right - left, top - bottom) if upright else (top - bottom, right - left)
        place = self.where("at", "width") if near else self.where("width")
        check_room(piece, self.KIND, "wide", near + width, across, place, shop, whole=near > 0)
        first, last = (max(0.0, float(stop)) for stop in self.stops or (0, 0))
        check_room(piece, self.KIND, "long", first + last, long, self.where("stops"), shop)
        radius = self._radius(shop) if first or last else 0.0
        over = OVER + radius  # what runs out of the wood is no end
        begin, end = (first or -over), long - (last or -over)
        far_side = dot(FACE_FRAMES[edge].n, frame.u if upright else frame.v) > 0
        # A channel at the very edge runs out of it, so that no skin is left there.
        inner = near if near > 0 else -over
        offset = across - near - width if far_side else inner
        wide = near + width - inner
        if upright:
            return box(left + offset, bottom + begin, wide, end - begin, radius)
        return box(left + begin, bottom + offset, end - begin, wide, radius)

    def _radius(self, shop: Shop) -> float:
        """How round the cutter leaves the corners of a stopped end, mm; without a diameter it is as wide as the cut."""
        if self.ends == "square":
            return 0.0
        wide = diameter_of(shop.tool(self.tool, self.where("tool"), *CUTTERS), shop) or float(self.width)
        return min(wide, float(self.width)) / 2

    def stops_told(self, edge: str) -> tuple[tuple[str, object], ...]:
        """How far the channel stays away from the sides at its two ends, as settings."""
        frame = FACE_FRAMES[self.face]
        along = frame.v if abs(dot(FACE_FRAMES[edge].n, frame.u)) > 0.5 else frame.u
        ends = zip((negated(along), along), self.stops or (), strict=False)
        return tuple((f"stop before the {side_at(way)}", float(stop)) for way, stop in ends if stop)

    def channelled(
        self,
        piece: Piece,
        area: Area,
        settings: tuple[tuple[str, object], ...],
        doubts: tuple[Trouble, ...],
        shop: Shop,
    ) -> Outcome:
        """Cut an area of the face out to the depth. Raises Snag."""
        frame, tool = FACE_FRAMES[self.face], shop.tool(self.tool, self.where("tool"))
        _, high = span(piece.solid, frame)
        cutter = prism(area, frame, high - float(self.depth), high + OVER)
        done = cut(piece, cutter, "trim", self.where("at", "edge", "edges"), shop)
        if len(done.parts) > 1:
            facts = {"piece": piece.name, "operation": self.KIND}
            raise snag("cut-splits", self.where("at", "edge", "edges"), shop.at.step, **facts)
        made = reshaped(piece, done.parts[0], shop)
        seen = area.meet(piece.solid.shadow(frame))
        metres = seen.size / float(self.width) / 1000
        on_face = frame.at(frame.world(0.0, 0.0, high))
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=done.lost,
            uses=(Use(tool.name, tool.kind, metres, "m"),),
            show=Show(self.face, (Shown(made, "worked"),), tuple(line_cue(r, on_face, piece.name) for r in seen.rings)),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(
                ("face", self.face),
                *settings,
                ("width", float(self.width)),
                ("depth", float(self.depth)),
            ),
            troubles=doubts,
        )


def side_at(way: Vec3) -> str:
    """The side of a piece that looks a way."""
    return max(FACE_FRAMES, key=lambda side: dot(FACE_FRAMES[side].n, way))


def run_of(face: str, edge: str) -> Vec3:
    """The direction of the edge that two sides have in common."""
    a, b = FACE_FRAMES[face].n, FACE_FRAMES[edge].n
    way = (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
    return way if sum(way) > 0 else negated(way)


def in_the_face(channel: Channel, edge: str, at: float, along: bool, shop: Shop) -> Outcome:
    """Cut a channel inside the face, with a doubt where it goes the wrong way of the grain. Raises Snag."""
    piece = channel.start((edge,), shop)
    doubts = doubted(piece, run_of(channel.face, edge), along, channel.KIND, channel.where("edge"), shop)
    settings = (("from", edge), ("distance", at), *channel.stops_told(edge))
    return channel.channelled(piece, channel.strip(piece, edge, at, shop), settings, doubts, shop)
