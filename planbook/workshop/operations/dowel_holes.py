"""Bore dowel holes in matching pairs, in two pieces that meet face to face."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids.plane import circle
from planbook.solids.solid import cylinder
from planbook.workshop.cutting import span, stacked_apart
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Moves, PieceNames, Points, Positive, SupplyName, ToolName
from planbook.workshop.grain import axis_of
from planbook.workshop.pairs import Side, check_meeting, paired
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.spots import Bored, axes, bored, diameter_of
from planbook.workshop.timeline import Show, Use


@dataclass(frozen=True, kw_only=True)
class DowelHoles(Work):
    """Bore holes at points of a `face` of the first of two pieces, and where these meet the second.

    The second meets it with the opposite face, where it lies or after `moves`. `other_at`, measured on its own face
    and in the same order, is checked against the points of the first.
    """

    KIND: ClassVar[str] = "dowel holes"
    DRAWN: ClassVar[Drawn] = Drawn(weight=260)

    pieces: PieceNames
    """The two pieces."""
    face: Face
    """The face of the first that meets the second."""
    at: Points
    """Points on that face."""
    drill: ToolName
    depth: Positive
    """How deep in the first."""
    other_depth: Positive | None = None
    """How deep in the second; as in the first if left out."""
    other_at: Points | None = None
    """The same points measured on the face of the second: they are checked, not used."""
    origin: Literal["lower left", "lower right", "lower middle", "middle", "world"] = "lower left"
    """The point of each face from which the points are measured."""
    moves: Moves | None = None
    dowels: SupplyName | None = None
    """The dowels, by their name among the supplies."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        drill = shop.tool(self.drill, self.where("drill"), "drill")
        diameter, depth = diameter_of(drill, shop), float(self.depth)
        back = float(self.other_depth) if self.other_depth is not None else depth
        first, second = self._sides(shop)
        one = self._bored(first, diameter, depth, "depth", shop)
        two = self._bored(second, diameter, back, "other_depth", shop)
        done = (one, two)
        count = len(first.spots)
        used = [Use(drill.name, drill.kind, 2 * count, "holes")]
        if self.dowels:
            dowels = shop.supply(self.dowels, self.where("dowels"), "hardware", "other")
            used.append(Use(dowels.name, dowels.kind, count, "pieces"))
        axis = axis_of(first.frame.n)
        return Outcome(
            taken=(first.piece, second.piece),
            made=tuple(each.piece for each in done),
            lost=tuple(loss for each in done for loss in each.lost),
            uses=tuple(used),
            show=Show(
                self.face,
                stacked_apart([(each.piece, "worked") for each in done], axis, max(8.0, 3 * (depth + back))),
                tuple(
                    cue
                    for side in (first, second)
                    for cue in axes(side.frame, side.spots, dict.fromkeys(side.spots, 0.0), side.piece.name)
                ),
            ),
            hands_on=shop.minutes(self.KIND, 2 * count),
            settings=(
                ("face", self.face),
                ("diameter", diameter),
                ("depth", depth),
                ("depth in the other", back),
                ("at", tuple(first.spots.values())),
                ("at on the other", tuple(second.spots.values())),
            ),
            troubles=tuple(doubt for each in done for doubt in each.doubts),
        )

    def _sides(self, shop: Shop) -> tuple[Side, Side]:
        """The two pieces with their points. Raises Snag."""
        place = self.where("pieces")
        if len(set(self.pieces)) != 2 or len(self.pieces) != 2:
            facts = {"field": "pieces", "what": "piece names", "operation": self.KIND, "expected": "list of two pieces"}
            raise snag("wrong-field", place, shop.at.step, **facts)
        one, two = (shop.dry(name, place) for name in self.pieces)
        strangers = [name for name in self.moves or {} if name not in self.pieces]
        if strangers:
            at = self.where("moves")
            raise snag("move-of-another", at, shop.at.step, piece=strangers[0], pieces=self.pieces)
        first, second = paired(one, two, self.face, self.origin, self.at, self.moves)
        if self.other_at is not None:
            check_meeting(first, second, self.other_at, self.where("other_at"), shop)
        return first, second

    def _bored(self, side: Side, diameter: float, depth: float, field: str, shop: Shop) -> Bored:
        low, high = span(side.piece.solid, side.frame)
        if depth >= high - low - 1e-9:
            facts = {"piece": side.piece.name, "depth": high - low}
            raise snag("hole-too-deep", self.where(field, "depth"), shop.at.step, **facts)
        tools = {n: cylinder(side.frame, at, diameter / 2, high - depth, high + 1) for n, at in side.spots.items()}
        rims = {n: (circle(at, diameter / 2), at, diameter / 2) for n, at in side.spots.items()}
        return bored(side.piece, side.frame, tools, rims, self.where("at"), shop)
