"""Cut a tenon at the end of a piece, with its shoulders."""

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar, Literal

from planbook.solids import Area, Frame
from planbook.solids.plane import box
from planbook.solids.solid import prism
from planbook.workshop.cutting import cut, line_cue, span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, OffMiddle, PieceName, Point, Positive, ToolName
from planbook.workshop.limits import check_cutter, check_room
from planbook.workshop.pieces import face_frame, reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Piece, Show, Shown, Use

CUTTERS = ("table saw", "band saw", "hand saw", "router", "other")


@dataclass(frozen=True, kw_only=True)
class Tenon(Work):
    """Leave a tongue of `size` (across and up as seen from the end), `length` long; `shift` moves it off the middle."""

    KIND: ClassVar[str] = "tenon"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=280, old_edges=True)

    piece: PieceName
    end: Face
    """The end on which it is cut."""
    length: Positive
    """How long the tongue is."""
    size: Point
    """How wide and how high the tongue is, as seen from the end."""
    tool: ToolName
    shift: OffMiddle = (Fraction(0), Fraction(0))
    """How far it is off the middle of the end, to the right and up."""
    ends: Literal["square", "round"] = "square"
    """Whether its edges are square or round."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.tool, self.where("tool"), *CUTTERS)
        frame = face_frame(piece, self.end, "middle")
        low, high = span(piece.solid, frame)
        check_room(piece, self.KIND, "long", float(self.length), high - low, self.where("length"), shop)
        tongue = self._tongue(piece, frame, shop)
        check_cutter(tool, float(self.length), self.where("tool"), shop)
        left, bottom, right, top = piece.solid.shadow(frame).bounds
        around = box(left - 1, bottom - 1, right - left + 2, top - bottom + 2)
        # Where a side has no shoulder the tongue is as wide as the piece: nothing is taken there.
        waste = prism(around.minus(tongue), frame, high - float(self.length), high + 1)
        done = cut(piece, waste, "trim", self.where("size"), shop)
        if len(done.parts) > 1:
            raise snag("cut-splits", self.where("size"), shop.at.step, piece=piece.name, operation=self.KIND)
        made = reshaped(piece, done.parts[0], shop)
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=done.lost,
            uses=(Use(tool.name, tool.kind, 1, "pieces"),),
            show=Show(self.end, (Shown(made, "worked"),), (line_cue(tongue.rings[0], frame, piece.name),)),
            hands_on=shop.minutes(self.KIND, 1),
            settings=(
                ("end", self.end),
                ("length", float(self.length)),
                ("size", tuple(float(s) for s in self.size)),
                ("off the middle", tuple(float(s) for s in self.shift) if any(self.shift) else ()),
                ("ends", "rounded" if self.ends == "round" else ()),
            ),
        )

    def _tongue(self, piece: Piece, frame: Frame, shop: Shop) -> Area:
        """The section of the tongue, in the middle of the end. Raises Snag where the piece is too small for it."""
        left, bottom, right, top = piece.solid.shadow(frame).bounds
        across, up = (float(s) for s in self.size)
        du, dv = (float(s) for s in self.shift)
        if across <= 0 or up <= 0:
            raise snag("not-positive", self.where("size"), shop.at.step, field="size", value=min(across, up))
        place = self.where("shift", "size")
        check_room(piece, self.KIND, "wide", across + 2 * abs(du), right - left, place, shop, whole=True)
        check_room(piece, self.KIND, "high", up + 2 * abs(dv), top - bottom, place, shop, whole=True)
        round_by = min(across, up) / 2 - 1e-6 if self.ends == "round" else 0.0
        return box(du - across / 2, dv - up / 2, across, up, round_by)
