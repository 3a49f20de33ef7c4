"""Saw a layer off parallel to a face."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids import FACE_FRAMES, OPPOSITE
from planbook.solids.frames import times
from planbook.workshop.cutting import halved
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Makes, PieceName, Positive, ToolName
from planbook.workshop.pieces import part_of
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Show, Shown, Treated, Use


@dataclass(frozen=True, kw_only=True)
class Slice(Work):
    """Saw a layer of a given thickness off a piece, against a fence; `makes` names the "layer" and the "rest"."""

    KIND: ClassVar[str] = "slice"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=400, laid="level", holds_on=True)

    piece: PieceName
    face: Face
    """The face from which the layer comes off."""
    thickness: Positive
    """How thick the layer is."""
    blade: ToolName
    makes: Makes
    """A name for the `"layer"` and one for the `"rest"`."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.blade, self.where("blade"), "band saw", "table saw", "hand saw")
        kerf, thick = shop.kerf(tool), float(self.thickness)
        layer, rest, lost = halved(piece, self.face, thick, thick + kerf, "kerf", self.where("thickness"), shop)
        made = []
        for name, region in self.makes.items():
            solid = {"layer": layer, "rest": rest}.get(region)
            if solid is None:
                facts = {"region": region, "known": ("layer", "rest")}
                raise snag("region-unknown", self.where("makes"), shop.at.step, **facts)
            done = (Treated(_sawn_face(self.face, region), "sawn", shop.at, shop.worked(solid, self.face)),)
            made.append(part_of(piece, name.replace("*", piece.name), solid, shop, done))
        if len(made) != 2 or made[0].solid is made[1].solid:
            raise snag("region-missing", self.where("makes"), shop.at.step, known=("layer", "rest"))
        frame = FACE_FRAMES[self.face]
        far = max(14.0, 0.2 * max(piece.solid.extent))
        shown = tuple(Shown(p, "new", times(frame.n, far) if p.solid is layer else (0.0, 0.0, 0.0)) for p in made)
        metres = max(piece.solid.extent) / 1000
        return Outcome(
            taken=(piece,),
            made=tuple(made),
            lost=lost,
            uses=(Use(tool.name, tool.kind, metres, "m"),),
            show=Show(self.face, shown),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(("face", self.face), ("fence", thick), ("kerf", kerf)),
        )


def _sawn_face(face: str, region: str) -> str:
    return OPPOSITE[face] if region == "layer" else face
