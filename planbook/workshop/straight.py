"""Straight saw cuts across a whole piece, square or at an angle; knows no operation by name."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin, tan
from typing import ClassVar

from planbook.model import Tool
from planbook.solids import FACE_FRAMES, OPPOSITE, Solid, Vec3
from planbook.solids.frames import negated, plus, times
from planbook.text import Place
from planbook.workshop.cutting import BARE
from planbook.workshop.fields import Angle, PieceName, Positive, Text, ToolName
from planbook.workshop.grain import doubted
from planbook.workshop.limits import check_edge
from planbook.workshop.pieces import part_of, reshaped, without_crumbs
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Lost, Piece, Show, Shown, Treated, Trouble, Use

SAWS = ("table saw", "band saw", "hand saw")
STEEPEST = 90


@dataclass(frozen=True, kw_only=True)
class StraightCut(Work):
    """A cut right across a piece; what comes off is an offcut with a name, or waste; `makes` renames what is kept."""

    EACH: ClassVar[bool] = True

    piece: PieceName
    blade: ToolName
    offcut: Text = ""
    """A name for what comes off; waste if left out."""
    makes: Text = ""
    """A new name for what is kept; the old one if left out."""

    def square_cut(self, face: str, keep: float, along: bool, field: str, setting: str, shop: Shop) -> Outcome:
        """Saw a side off, leaving `keep` mm of the piece; `along` says that the cut should follow the grain."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        normal = FACE_FRAMES[face].n
        top, long = piece.solid.reach(normal), thickness(piece.solid, normal)
        if keep >= long - 1e-9:
            facts = {"piece": piece.name, "depth": long, "asked": keep}
            raise snag("cut-misses", self.where(field), shop.at.step, **facts)
        doubts = _doubts(piece, normal, along, self.KIND, self.where("face"), shop)
        settings = (("face", face), ("measured from", OPPOSITE[face]), (setting, keep))
        return self.cut_at(piece, face, normal, top - long + keep, long - keep, settings, doubts, shop)

    def angled_cut(
        self, face: str, long: str, angle: Angle, keep: Positive | None, setting: str, shop: Shop
    ) -> Outcome:
        """Saw a side off at an angle, the side `long` staying whole (or `keep` mm long)."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        normal, side = FACE_FRAMES[face].n, FACE_FRAMES[long].n
        check_edge(face, long, self.where("long", "wide"), shop)
        if angle >= STEEPEST:
            facts = {"angle": float(angle), "operation": self.KIND, "most": STEEPEST}
            raise snag("angle-too-steep", self.where("angle"), shop.at.step, **facts)
        low, high = -piece.solid.reach(negated(normal)), piece.solid.reach(normal)
        if keep is not None and float(keep) > high - low + 1e-9:
            facts = {"piece": piece.name, "depth": high - low, "asked": float(keep)}
            raise snag("cut-misses", self.where("to"), shop.at.step, **facts)
        turn = radians(float(angle))
        way = plus(times(normal, cos(turn)), times(side, -sin(turn)))
        end = high if keep is None else low + float(keep)
        level = end * cos(turn) - piece.solid.reach(side) * sin(turn)
        doubts = _doubts(piece, normal, False, self.KIND, self.where("end"), shop) if self.KIND == "mitre" else ()
        settings = (
            ("end" if self.KIND == "mitre" else "face", face),
            ("whole side", long),
            (setting, angle),
            ("to", end - low),
        )
        deep = thickness(piece.solid, side) * tan(turn)
        return self.cut_at(piece, face, way, level, deep, settings, doubts, shop, long)

    def cut_at(
        self,
        piece: Piece,
        face: str,
        way: Vec3,
        level: float,
        taken: float,
        settings: tuple[tuple[str, object], ...],
        doubts: tuple[Trouble, ...],
        shop: Shop,
        beside: str = "",
    ) -> Outcome:
        """Saw along the plane way . p = level, the kerf beyond it; `taken` mm come off at most."""
        tool = shop.tool(self.blade, self.where("blade"), *SAWS)
        kerf = shop.kerf(tool)
        beyond, rest = piece.solid.split(way, level)
        layer, dust = beyond.split(way, level + kerf)
        self._check(piece, rest, beyond, layer, taken, kerf, shop)
        lost = [Lost("kerf", dust, dust.volume)]
        sawn = (Treated(face, "sawn", shop.at, shop.worked(rest, face)),)
        kept = self.makes.replace("*", piece.name)
        made = [part_of(piece, kept, rest, shop, sawn) if kept else reshaped(piece, rest, shop, sawn)]
        if self.offcut:
            made.append(part_of(piece, self.offcut.replace("*", piece.name), layer, shop))
        elif not layer.empty:
            lost.append(Lost("trim", layer, layer.volume))
        metres = _cut_length(piece.solid, FACE_FRAMES[face].n) / 1000
        return Outcome(
            taken=(piece,),
            made=tuple(made),
            lost=tuple(lost),
            uses=(_used(tool, metres),),
            show=Show(_view(face, beside), _shown(made, face)),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(*settings, ("kerf", kerf)),
            troubles=doubts,
        )

    def _check(
        self, piece: Piece, rest: Solid, beyond: Solid, layer: Solid, taken: float, kerf: float, shop: Shop
    ) -> None:
        place, step = self.where("width", "length", "to", "angle"), shop.at.step
        if rest.empty or beyond.volume < BARE:
            raise snag("cut-misses", place, step, piece=piece.name)
        if self.offcut and layer.volume < BARE:
            raise snag("cut-misses", self.where("offcut"), step, piece=piece.name, asked=taken, kerf=kerf)
        if len(without_crumbs(rest)[0]) > 1:
            raise snag("cut-splits", place, step, piece=piece.name, operation=self.KIND)


def thickness(solid: Solid, way: Vec3) -> float:
    """How far a solid extends along a direction, mm."""
    return solid.reach(way) + solid.reach(negated(way))


def _doubts(piece: Piece, normal: Vec3, along: bool, kind: str, place: Place, shop: Shop) -> tuple[Trouble, ...]:
    # A cut across the grain has the grain along its normal.
    return doubted(piece, normal, not along, kind, place, shop)


def _cut_length(solid: Solid, normal: Vec3) -> float:
    return max(e for e, n in zip(solid.extent, normal, strict=True) if abs(n) < 0.5)


def _used(tool: Tool, metres: float) -> Use:
    return Use(tool.name, tool.kind, metres, "m")


def _view(face: str, beside: str) -> str:
    """The face from which the line of the cut is seen: at right angles to the sides that it lies between."""
    edgewise = {face, OPPOSITE[face], beside, OPPOSITE.get(beside, "")}
    return next(each for each in ("front", "top", "right") if each not in edgewise)


def _shown(made: Sequence[Piece], face: str) -> tuple[Shown, ...]:
    far = times(FACE_FRAMES[face].n, max(10.0, 0.15 * max(made[0].solid.extent)))
    return (Shown(made[0], "new"), *(Shown(p, "new", far) for p in made[1:]))
