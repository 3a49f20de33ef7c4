"""Close the kerf of an entry cut with a shim of wood."""

from dataclasses import dataclass
from math import dist
from typing import ClassVar

from planbook.solids import FACE_FRAMES, Area, Frame, Path, Solid, Vec3
from planbook.solids.frames import plus, times
from planbook.solids.solid import prism
from planbook.workshop.closing import closing
from planbook.workshop.cutting import line_cue, span
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Minutes, PieceName, StencilName, SupplyName, Text
from planbook.workshop.fillings import cavity, flat_sides, grain_told, laid_in, needed
from planbook.workshop.gluing import cure_minutes
from planbook.workshop.grain import grain_of
from planbook.workshop.joints import SNUG, clamp_minutes, join
from planbook.workshop.pieces import reshaped, without_crumbs
from planbook.workshop.pushing import push
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Lost, Piece, Show, Shown, Use

SLACK = 0.15
"""A shim that is thinner than its cut by more than this (mm) is not held by the glue (from memory: 0.1 to 0.2 mm)."""
WIDEST = 3.5
"""Saws leave no wider cuts than this (mm)."""
OUT = 1.1
"""How far a shim is shown outside its cut, in its own lengths: past the mouth of the cut, which is in sight then."""
ARROW = 0.25
"""Length of the arrow that pushes it in, in the lengths of the shim."""
CRUMB = 0.1
"""Less than this (mm2) is no cut."""


@dataclass(frozen=True, kw_only=True)
class Shim(Work):
    """Glue a thin strip into the kerf along an open line of the stencil, and trim it flush with the piece."""

    KIND: ClassVar[str] = "shim"
    EACH: ClassVar[bool] = True
    MIRRORS: ClassVar[bool] = False
    GLUES_ON: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=300, laid="moved")

    piece: PieceName
    stencil: StencilName
    line: Text
    """The open line whose kerf is closed."""
    shim: PieceName
    """The strip, as thick as the kerf. What fills the cut is cut out of it, so it must be as long and as wide."""
    glue: SupplyName
    clamp: Minutes | None = None

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.open_to_glue(self.piece, self.where("piece", "pieces"))
        strip = shop.dry(self.shim, self.where("shim"))
        supply = shop.supply(self.glue, self.where("glue"), "glue")
        stuck = shop.stuck(piece, self.stencil, self.where("stencil"))
        line = shop.line(stuck, self.line, self.where("line"))
        if not isinstance(line, Path):
            raise snag("entry-not-open", self.where("line"), shop.at.step, line=self.line)
        thick = min(strip.solid.extent)
        low, high = span(piece.solid, stuck.frame)
        section = piece.solid.section(stuck.frame, (low + high) / 2)
        way = _gap(section, line, thick, 1.5 * thick)
        if way.size < CRUMB or _gap(section, line, thick, thick + SLACK).size < way.size / 2:
            wide = _wide(section, line)
            if wide > thick + SLACK:
                raise snag("shim-too-small", self.where("shim"), shop.at.step, shim=strip.name, thick=thick, wide=wide)
        filling = prism(way.offset(SNUG), stuck.frame, low, high)
        bodies, _ = without_crumbs(filling)
        if not bodies:
            raise snag("no-kerf-there", self.where("line"), shop.at.step, piece=piece.name, line=self.line)
        filled = max(bodies, key=lambda s: s.volume)
        cut = cavity(filled, _along(line, stuck.frame), stuck.frame, thick)
        laid = laid_in(strip, cut, grain_of(piece))
        if laid is None:
            facts = {"shim": strip.name, "have": flat_sides(strip.solid), "need": needed(cut)}
            raise snag("shim-too-small", self.where("shim"), shop.at.step, **facts)
        if filled.volume > strip.solid.volume:
            wood = {"shim": strip.name, "wood": strip.solid.volume, "cut": filled.volume}
            raise snag("shim-too-small", self.where("shim"), shop.at.step, **wood)
        set_in = Piece(strip.name, filled, laid.members, shop.at)
        minutes = float(self.clamp) if self.clamp is not None else clamp_minutes(supply, shop)
        hands_on = shop.minutes(self.KIND, 1)
        wet = max(piece.wet, shop.clock + hands_on + max(minutes, cure_minutes(supply, shop)))
        joined, area = join(piece.name, [piece, set_in], self.where("line"), shop, wet)
        trimmed = Lost("trim", strip.solid, strip.solid.volume - filled.volume)
        made = reshaped(joined, joined.solid, shop)
        out = tuple(c * (high - low) * OUT for c in stuck.frame.n)
        shown = (Shown(piece, "worked"), Shown(set_in, "new", (out[0], out[1], out[2])))
        cues = [line_cue(line.points, stuck.frame, piece.name, closed=False)]
        if shop.shown:
            cues.append(push(shown[1], FACE_FRAMES[stuck.stencil.face], ARROW * (high - low)))
            cues += _spread(filled, way, stuck.frame, thick, strip.name)
            cues += closing(piece, line, stuck.frame, (low + high) / 2) if minutes else ()
        return Outcome(
            taken=(piece, strip),
            made=(made,),
            lost=(trimmed,),
            uses=(Use(supply.name, "glue", area / 1e6, "m2"),),
            show=Show(stuck.stencil.face, shown, tuple(cues)),
            hands_on=hands_on,
            wait=minutes,
            settings=(
                ("line", self.line),
                ("strip", (*needed(cut), thick)),
                ("grain", grain_told(laid, cut)),
                ("mating area", area),
                ("clamp", minutes),
            ),
        )


def _along(line: Path, frame: Frame) -> Vec3:
    """The way in which a line goes from end to end."""
    (au, av), (bu, bv) = line.points[0], line.points[-1]
    far = dist((au, av), (bu, bv))
    return plus(times(frame.u, (bu - au) / far), times(frame.v, (bv - av) / far)) if far > CRUMB else frame.u


def _spread(filled: Solid, way: Area, frame: Frame, thick: float, shim: str) -> list[Cue]:
    """Where glue goes on the sides of a shim, as far as they are straight for longer than it is thick."""
    low, high = span(filled, frame)
    edges = [edge for ring in way.rings for edge in zip(ring, (*ring[1:], ring[0]), strict=True)]
    long = [(one, two) for one, two in edges if dist(one, two) > 1.5 * thick]
    quads = [
        (frame.world(*a, low), frame.world(*b, low), frame.world(*b, high), frame.world(*a, high)) for a, b in long
    ]
    return [Cue("glue face", quad, shim) for quad in quads]


def _wide(section: Area, line: Path) -> float:
    """How wide the cut along a line is, to a tenth of a millimetre; 0 where there is none."""
    whole = _gap(section, line, WIDEST, WIDEST).size
    tenths = (n / 10 for n in range(1, int(WIDEST * 10) + 1)) if whole > CRUMB else ()
    return next((wide for wide in tenths if _gap(section, line, WIDEST, wide + 0.05).size > whole / 2), 0.0)


def _gap(section: Area, line: Path, near: float, wide: float) -> Area:
    """What is open along a line, no wider than `wide`, where the section has wood on both sides."""
    closed = section.offset(wide / 2).offset(-wide / 2)
    return closed.meet(line.band(1.6 * near, over=(2 * near, 2 * near))).minus(section)
