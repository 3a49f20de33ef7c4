"""Cut round plugs (or knobs) out of a piece."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids.plane import circle
from planbook.solids.solid import cylinder, joined, prism
from planbook.workshop.cutting import span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Names, PieceName, Points, Positive, ToolName
from planbook.workshop.pieces import face_frame, part_of, without_crumbs
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.spots import MEASURED_FROM
from planbook.workshop.timeline import Lost, Piece, Show, Shown, Use


@dataclass(frozen=True, kw_only=True)
class CutPlugs(Work):
    """Cut one plug for each point of a face, right through the piece; what is left of it keeps the name `rest`."""

    KIND: ClassVar[str] = "cut plugs"
    EACH: ClassVar[bool] = True
    MIRRORS: ClassVar[bool] = False
    DRAWN: ClassVar[Drawn] = Drawn(weight=410)

    piece: PieceName
    face: Face
    at: Points
    """The middles of the plugs on the face, to the right and up from `origin`."""
    diameter: Positive
    """How thick the plugs are."""
    cutter: ToolName
    """The plug cutter, a drill with a `kerf`."""
    makes: Names
    """A name for each plug, in the order of the points."""
    rest: Names
    """A name for what is left of the piece, or for each part of it."""
    origin: Literal["lower left", "lower right", "lower middle", "middle", "world"] = "lower left"
    """The point of the face from which `at` is measured."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.cutter, self.where("cutter"), "drill", "other")
        if len(self.at) != len(self.makes):
            raise snag("count-differs", self.where("makes"), shop.at.step, points=len(self.at), names=len(self.makes))
        wall = shop.kerf(tool) or 2.0
        radius = float(self.diameter) / 2
        frame = face_frame(piece, self.face, self.origin)
        low, high = span(piece.solid, frame)
        plugs, rings = [], []
        for name, (u, v) in zip((n.replace("*", piece.name) for n in self.makes), self.at, strict=True):
            at = (float(u), float(v))
            outer = circle(at, radius + wall)
            if not outer.within(piece.solid.section(frame, (low + high) / 2)):
                raise snag("hole-misses", self.where("at"), shop.at.step, piece=piece.name, hole=name)
            core = cylinder(frame, at, radius, low - 1, high + 1)
            plugs.append(part_of(piece, name, piece.solid.meet(core), shop))
            rings.append(prism(outer.minus(circle(at, radius)), frame, low - 1, high + 1))
        kerf = piece.solid.meet(joined(rings))
        left = piece.solid.minus(joined(rings), *(p.solid for p in plugs))
        bodies, crumbs = without_crumbs(left)
        rest = part_of(piece, self.rest[0].replace("*", piece.name), joined(bodies), shop)
        lost = [Lost("kerf", kerf, kerf.volume), *(Lost("dust", c, c.volume) for c in crumbs)]
        shown = [Shown(rest, "new"), *(Shown(p, "new", _out(frame.n, p)) for p in plugs)]
        return Outcome(
            taken=(piece,),
            made=(*plugs, rest),
            lost=tuple(lost),
            uses=(Use(tool.name, tool.kind, len(plugs), "plugs"),),
            show=Show(self.face, tuple(shown)),
            hands_on=shop.minutes(self.KIND, len(plugs)),
            settings=(
                ("diameter", float(self.diameter)),
                ("count", len(plugs)),
                ("face", self.face),
                ("at", tuple((float(u), float(v)) for u, v in self.at)),
                ("measured from", MEASURED_FROM[self.origin]),
            ),
        )


def _out(normal: tuple[float, float, float], plug: Piece) -> tuple[float, float, float]:
    far = max(plug.solid.extent) + 8
    return (normal[0] * far, normal[1] * far, normal[2] * far)
