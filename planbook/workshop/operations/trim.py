"""Saw the end of a piece off, parallel to a face; the end may be kept as an offcut."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids import FACE_FRAMES, OPPOSITE, Solid
from planbook.solids.frames import times
from planbook.workshop.cutting import halved
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, PieceName, PieceNames, Positive, Text, ToolName
from planbook.workshop.pieces import part_of, reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Lost, Show, Shown, Treated, Use


@dataclass(frozen=True, kw_only=True)
class Trim(Work):
    """Shorten a piece at a face: `take` says how much comes off (kerf included), or `to` how long it becomes."""

    KIND: ClassVar[str] = "trim"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=290, old_edges=True)

    piece: PieceName
    face: Face
    """The end that comes off."""
    blade: ToolName
    take: Positive | None = None
    """How much comes off, kerf included."""
    to: Positive | None = None
    """How long the piece becomes, instead of `take`."""
    offcut: Text = ""
    """A name for what comes off; waste if left out."""
    over: PieceNames | None = None
    """Pieces that lie under it, such as a cradle for a curved one: they carry it, and are not cut."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.blade, self.where("blade"), "band saw", "table saw", "hand saw", "scroll saw")
        kerf, take = shop.kerf(tool), self._take(shop, piece.solid.extent)
        off = max(0.0, take - kerf)
        layer, rest, lost = halved(piece, self.face, off, take, "kerf", self.where("take", "to"), shop)
        frame = FACE_FRAMES[self.face]
        done = (Treated(self.face, "sawn", shop.at, shop.worked(rest, self.face)),)
        made = [reshaped(piece, rest, shop, done)]
        if self.offcut and layer.empty:
            raise snag("cut-misses", self.where("offcut"), shop.at.step, piece=piece.name, asked=take, kerf=kerf)
        if self.offcut:
            made.append(part_of(piece, self.offcut.replace("*", piece.name), layer, shop))
        elif not layer.empty:
            lost = (*lost, Lost("trim", layer, layer.volume))
        far = times(frame.n, max(10.0, 0.15 * max(piece.solid.extent)))
        shown = [Shown(made[0], "new"), *(Shown(p, "new", far) for p in made[1:])]
        shown += [Shown(shop.dry(name, self.where("over")), "context") for name in self.over or ()]
        metres = max(rest.extent) / 1000
        return Outcome(
            taken=(piece,),
            made=tuple(made),
            lost=lost,
            uses=(Use(tool.name, tool.kind, metres, "m"),),
            show=Show(self.face, tuple(shown), self._sawn(rest, made[0].name) if shop.shown else ()),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(
                ("face", self.face),
                ("take off", take),
                ("kerf", kerf),
                *((("to", float(self.to)),) if self.to is not None else ()),
                ("measured from", OPPOSITE[self.face]),
            ),
        )

    def _sawn(self, rest: Solid, name: str) -> tuple[Cue, ...]:
        """The lines around the sawn face: what came off is mostly too thin to be drawn."""
        frame = FACE_FRAMES[self.face]
        level = rest.reach(frame.n)
        rings = ([frame.world(u, v, level) for u, v in ring] for ring in rest.face(frame).rings)
        return tuple(Cue("cut line", (*ring, ring[0]), name) for ring in rings)

    def _take(self, shop: Shop, extent: tuple[float, float, float]) -> float:
        if (self.take is None) == (self.to is None):
            raise snag("one-of-two", self.written.place, shop.at.step, fields=("take", "to"), operation=self.KIND)
        if self.take is not None:
            return float(self.take)
        normal = FACE_FRAMES[self.face].n
        long = sum(abs(n) * e for n, e in zip(normal, extent, strict=True))
        take = long - float(self.to or 0)
        if take <= 0:
            raise snag(
                "cut-misses",
                self.where("to"),
                shop.at.step,
                piece=self.piece,
                depth=long,
                asked=float(self.to or 0),
            )
        return take
