"""Stick a stencil on a face."""

from dataclasses import dataclass, replace
from typing import ClassVar

from planbook.model import FACES, Expr, FaceName, Stencil
from planbook.solids import Frame, Outline, Path
from planbook.solids.plane import circle
from planbook.workshop.cutting import line_cue, outline_cues
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import PieceName, StencilName
from planbook.workshop.pieces import face_frame, reshaped
from planbook.workshop.reflection import Reflection
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Stuck


@dataclass(frozen=True, kw_only=True)
class Stick(Work):
    """Stick a printed stencil on the face it is made for, aligned as the stencil says."""

    KIND: ClassVar[str] = "stick"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=50)

    piece: PieceName
    stencil: StencilName
    """The stencil, by its name in the design."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        stencil = shop.stencil(self.stencil, self.where("stencil"))
        frame = self._frame(piece, stencil, shop)
        lines = {use.name: shop.shapes[use.shape] for use in stencil.lines if use.shape in shop.shapes}
        holes = {
            h.name: (self._mm(shop, h.at[0]), self._mm(shop, h.at[1]), self._mm(shop, h.diameter))
            for h in stencil.holes
        }
        regions = {r.name: (self._mm(shop, r.at[0]), self._mm(shop, r.at[1])) for r in stencil.regions}
        face = piece.solid.face(frame)
        stuck = Stuck(stencil, frame, lines, holes, regions, face, piece.name, shop.at)
        if self.reflection:
            stuck = _mirrored(stuck, self.reflection)
            stencil, lines = stuck.stencil, dict(stuck.lines)
        if stencil.lines and lines and not any(_on_face(o.bounds, piece, frame) for o in lines.values()):
            raise snag(
                "stencil-off-piece",
                self.where("stencil"),
                shop.at.step,
                stencil=self.stencil,
                piece=piece.name,
            )
        others = tuple(s for s in piece.stuck if s.stencil.name != stencil.name)
        made = replace(reshaped(piece, piece.solid, shop), stuck=(*others, stuck))
        return Outcome(
            taken=(piece,),
            made=(made,),
            show=Show(stencil.face, (Shown(made, "worked"),), _cues(stuck, made)) if shop.shown else None,
            hands_on=shop.minutes(self.KIND, 1),
            settings=(("stencil", self.stencil), ("face", stencil.face)),
            stuck=stuck,
        )

    def _frame(self, piece: Piece, stencil: Stencil, shop: Shop) -> Frame:
        """Where the sheet lies; the mirrored sheet where the image of the first one does. Raises Snag."""
        if self.reflection is None:
            return face_frame(piece, stencil.face, stencil.origin)
        if self.reflection.of == piece.name:
            raise snag("mirror-unfit", self.where("mirror"), shop.at.step, why="sheet", stencil=stencil.name)
        first = shop.bench[self.reflection.of]
        return self.reflection.frame(stencil.face, face_frame(first, stencil.face, stencil.origin))

    def _mm(self, shop: Shop, expr: Expr) -> float:
        return shop.number(expr.formula, expr.place)


def _mirrored(stuck: Stuck, laid: Reflection) -> Stuck:
    """The sheet printed as its mirror image, for the partner of a piece."""
    way = laid.turns(stuck.stencil.face)

    def point(at: tuple[float, float]) -> tuple[float, float]:
        return (-at[0], at[1]) if way == "u" else (at[0], -at[1])

    return replace(
        stuck,
        stencil=replace(stuck.stencil, face=_named(laid.face(stuck.stencil.face))),
        lines={name: _image(outline, way) for name, outline in stuck.lines.items()},
        holes={name: (*point((u, v)), diameter) for name, (u, v, diameter) in stuck.holes.items()},
        regions={name: point(at) for name, at in stuck.regions.items()},
        mirrored=True,
    )


def _named(face: str) -> FaceName:
    return next(name for name in FACES if name == face)


def _image(outline: Outline, way: str) -> Outline:
    image = outline.mirrored(way)
    # Followed from its other end, an open line keeps the waste on the side that is named.
    return Path(image.points[::-1]) if isinstance(image, Path) else image


def _on_face(bounds: tuple[float, float, float, float], piece: Piece, frame: Frame) -> bool:
    left, bottom, right, top = piece.solid.shadow(frame).bounds
    return bounds[0] < right and bounds[2] > left and bounds[1] < top and bounds[3] > bottom


def _cues(stuck: Stuck, piece: Piece) -> tuple[Cue, ...]:
    cues = list[Cue]()
    for outline in stuck.lines.values():
        cues += outline_cues(outline, stuck, piece.name)
    # Nothing is bored yet, so what is seen of a hole is its ring on the paper.
    for u, v, diameter in stuck.holes.values():
        cues.append(line_cue(circle((u, v), diameter / 2).rings[0], stuck.frame, piece.name))
    # Nothing is sawn yet either: a line to cut is that of the step that cuts along it.
    return tuple(replace(cue, kind="printed line") for cue in cues)
