"""Saw to the lines of a stencil, taking a real kerf; not for straight cuts parallel to a face."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations, pairwise
from typing import ClassVar, Literal

import numpy as np

from planbook.model import Tool
from planbook.solids import Area, Frame, Outline, Path, Point2, Solid
from planbook.solids.idle import over_wood
from planbook.solids.plane import blank_area
from planbook.solids.solid import joined
from planbook.workshop.cutting import RUN_OUT, cut, line_cue, outline_cues, pulled, span, through
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Length, Makes, Names, PieceName, StencilName, ToolName
from planbook.workshop.kerfs import bands
from planbook.workshop.one_layer import drawn_apart, layers
from planbook.workshop.pieces import name_parts, part_of
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import MIDDLE, WAY_IN, Cue, Piece, Role, Show, Shown, Stuck, Treated, Use

SKIN = 0.01
"""So far under its face a part is looked at, mm."""
REACH = 1.5
"""A part lies along a line that is no farther from it than so many cuts are wide, besides what is left for sanding."""
SHORT = 0.2
"""A stretch of a line that is no longer than this share of it is not drawn on another part than the rest."""
AS_FAR = 0.95
"""Of parts on both sides of a line, one lies along as much of it as another that lies along this share of that."""
EQUAL = 0.05
"""Parts whose edges are equally far from a line, within this, mm, lie on both sides of its cut."""
OVERLAP = 1.0
"""Parts that cover one another by more than this, mm2, hide a cut."""
LAYER_AIR = 0.25
"""Air between parts that lock one another in a layer, in thicknesses."""
SAWS = ("band saw", "scroll saw", "hand saw")


@dataclass(frozen=True, kw_only=True)
class Saw(Work):
    """Saw through a piece along lines of the stencil stuck on it; each part gets the name of its region."""

    KIND: ClassVar[str] = "saw"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=420, follows="sawn")

    piece: PieceName
    stencil: StencilName
    blade: ToolName
    makes: Makes
    """A name for each part and the region it is: `"inside"` or `"outside"` of the closed lines, `"rest"`, or a
    region of the stencil.
    """
    lines: Names | None = None
    """The lines that are sawn; all but the entries if left out."""
    kerf_side: Literal["outside", "inside", "centre", "left", "right"] = "outside"
    """Where the blade runs: outside or inside a closed line, or on its centre; left or right of an open one, as it
    is drawn.
    """
    leave: Length = Fraction(0)
    """How far the blade stays away from the line; sanded off afterwards."""
    entry: Names | None = None
    """Open lines along which the blade comes in, from the edge of the wood or from a hole."""
    waste: Names | None = None
    """Parts that are hatched as waste in the picture. They still have to be discarded."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        stuck = shop.stuck(piece, self.stencil, self.where("stencil"))
        tool = shop.tool(self.blade, self.where("blade"), *SAWS)
        kerf, leave = shop.kerf(tool), float(self.leave)
        names = self._line_names(stuck)
        outlines = [shop.line(stuck, name, self.where("lines", "stencil")) for name in names]
        strips = bands(outlines, self.kerf_side, leave, kerf)
        band = _joined(strips)
        closed = _joined([o for o in outlines if isinstance(o, Area)])
        band = self._with_entry(band, closed, kerf, leave, stuck, shop)
        self._check_way_in(band, piece, stuck, shop)
        done = cut(piece, through(band, stuck.frame, piece.solid), "kerf", self.where("stencil"), shop)
        makes = {name.replace("*", piece.name): region for name, region in self.makes.items()}
        inside = None if closed.empty else closed
        named = name_parts(done.parts, stuck.frame, makes, inside, stuck, self.where("makes"), shop)
        made = self._pieces(piece, named, shop)
        metres = sum(o.perimeter if isinstance(o, Area) else o.length for o in outlines) / 1000
        low, high = span(piece.solid, stuck.frame)
        settings = (
            ("stencil", self.stencil),
            ("lines", names),
            ("kerf side", self.kerf_side),
            ("leave", leave),
            ("entry", tuple(self.entry or ())),
            ("kerf", kerf),
            ("waste", tuple(self.waste or ())),
            ("depth of cut", high - low),
        )
        return Outcome(
            taken=(piece,),
            made=made,
            lost=done.lost,
            uses=(_use(tool, metres),),
            show=self._show(made, list(zip(names, outlines, strips, strict=True)), stuck, piece, kerf)
            if shop.shown
            else None,
            hands_on=shop.minutes(self.KIND, metres),
            settings=settings,
        )

    def _line_names(self, stuck: Stuck) -> tuple[str, ...]:
        if self.lines:
            return self.lines
        return tuple(line.name for line in stuck.stencil.lines if line.name not in (self.entry or ()))

    def _with_entry(self, band: Area, closed: Area, kerf: float, leave: float, stuck: Stuck, shop: Shop) -> Area:
        inner, outer = (leave, leave + kerf) if self.kerf_side == "outside" else (-leave - kerf, -leave)
        kept, hollow = closed.offset(inner), closed.offset(outer)
        for name in self.entry or ():
            line = shop.line(stuck, name, self.where("entry"))
            if not isinstance(line, Path):
                raise snag("entry-not-open", self.where("entry"), shop.at.step, line=name)
            way = line.band(kerf, over=(kerf / 2, kerf / 2))
            # From a hole inside the line, the blade comes from there, and stops at the wood around it.
            band = band.plus(way.meet(hollow) if closed.holds(line.halfway) else way.minus(kept))
        return band

    def _check_way_in(self, band: Area, piece: Piece, stuck: Stuck, shop: Shop) -> None:
        low, high = span(piece.solid, stuck.frame)
        section = piece.solid.section(stuck.frame, (low + high) / 2)
        for part in band.parts:
            if part.within(section, 1e-6):
                names = ", ".join(self._line_names(stuck))
                raise snag(
                    "no-way-in",
                    self.where("stencil"),
                    shop.at.step,
                    piece=piece.name,
                    lines=names,
                    entry=self.entry,
                )

    def _pieces(self, piece: Piece, named: dict[str, list[Solid]], shop: Shop) -> tuple[Piece, ...]:
        made = []
        for name, parts in named.items():
            solid = parts[0] if len(parts) == 1 else joined(parts)
            made.append(part_of(piece, name, solid, shop, (Treated("line", "sawn", shop.at, 0.0),)))
        return tuple(made)

    def _show(
        self, made: tuple[Piece, ...], cuts: list[tuple[str, Outline, Area]], stuck: Stuck, piece: Piece, kerf: float
    ) -> Show:
        waste = {name.replace("*", piece.name) for name in self.waste or ()}
        roles: list[tuple[Piece, Role]] = [(p, "waste" if p.name in waste else "new") for p in made]
        cues: list[Cue] = []
        for name, outline, strip in cuts:
            sawn_to = isinstance(outline, Path) or not self.leave
            for run, holder, alone in _held(outline, made, stuck, float(self.leave) + REACH * kerf):
                marks = outline_cues(run, stuck, holder.name, strip if sawn_to else None)
                found = [replace(cue, line=name) for cue in marks]
                cues += found if alone else [replace(cue, text=MIDDLE) for cue in found]
        cues += self._ways_in(made, stuck, kerf)
        return Show(stuck.stencil.face, _drawn_apart(roles, stuck.frame), tuple(cues))

    def _ways_in(self, made: Sequence[Piece], stuck: Stuck, kerf: float) -> Iterator[Cue]:
        """The lines along which the blade comes in, where they run over the face, on the wood around what is sawn."""
        for name in self.entry or ():
            line = stuck.lines[name]
            for run in line.inside(stuck.face) if isinstance(line, Path) else ():
                holder = max((made[n] for n in _holders(run, made, stuck)[0]), key=lambda p: p.solid.volume)
                yield replace(line_cue(run.points, stuck.frame, holder.name, closed=False), text=WAY_IN, line=name)


def _drawn_apart(parts: Sequence[tuple[Piece, Role]], frame: Frame) -> tuple[Shown, ...]:
    """The parts pulled apart; all away from their middle where they lock one another so that some would overlap."""
    shown, solids = pulled(parts, frame), [part.solid for part, _ in parts]
    if layers(solids) != [tuple(range(len(parts)))]:
        return shown
    shadows = [s.piece.solid.moved(s.apart).shadow(frame) for s in shown]
    if not any(one.meet(two).size > OVERLAP for one, two in combinations(shadows, 2)):
        return shown
    moves = drawn_apart(solids, LAYER_AIR)
    return tuple(Shown(part, role, by) for (part, role), by in zip(parts, moves, strict=True))


def _held(outline: Outline, made: Sequence[Piece], stuck: Stuck, reach: float) -> Iterator[tuple[Outline, Piece, bool]]:
    """A line in the stretches on which one part lies along it, each with that, and whether it is left on it alone.

    Of several parts none lies along a stretch over what was gone before: that is left out.
    """
    left: list[Outline] = [*over_wood([outline], stuck.face, RUN_OUT)] if isinstance(outline, Path) else [outline]
    beside = [part.solid.section(stuck.frame, -SKIN).offset(reach) for part in made]
    if isinstance(outline, Path) and len(made) > 2:
        left = [part for run in left if isinstance(run, Path) for part in run.inside(blank_area().plus(*beside))]
    while left:
        run = left.pop(0)
        holders, alone = _holders(run, made, stuck)
        if isinstance(outline, Path):
            along = {n: sum(part.length for part in outline.inside(beside[n])) for n in holders}
            holders = [n for n in holders if along[n] >= AS_FAR * max(along.values())]
        best = max(holders, key=lambda n: made[n].solid.volume)
        rest: list[Path] = []
        if isinstance(run, Path) and len(made) > 2 and beside[best].holds(run.halfway):
            rest = [part for part in run.outside(beside[best]) if part.length > SHORT * run.length]
        runs = run.inside(beside[best]) if rest and isinstance(run, Path) else (run,)
        yield from ((part, made[best], alone) for part in runs)
        left += rest


def _holders(line: Outline, made: Sequence[Piece], stuck: Stuck) -> tuple[list[int], bool]:
    """The numbers of the parts on which a line is left, and whether it is only one on any stretch.

    The kerf lies between the line and all others; a line in the middle of its kerf has parts on both sides.
    """
    edges = [part.solid.section(stuck.frame, -SKIN) for part in made]
    far = np.array([[edge.distance_to_edge(spot) for spot in _spots(line)] for edge in edges])
    near = np.where(np.isnan(far), np.inf, far)
    nearest = near < near.min(axis=0) + EQUAL
    votes = nearest.sum(axis=1)
    alone = float(np.mean(nearest.sum(axis=0) == 1)) > 0.5
    return [n for n in range(len(made)) if votes[n] == votes.max()], alone


def _spots(line: Outline) -> list[Point2]:
    """Where it is looked what lies beside a line: in the middle of an open one, all along a closed one."""
    if isinstance(line, Path):
        return [line.halfway]
    return [((a + c) / 2, (b + d) / 2) for ring in line.rings for (a, b), (c, d) in pairwise((*ring, ring[0]))]


def _joined(areas: Sequence[Area]) -> Area:
    return areas[0].plus(*areas[1:]) if areas else blank_area()


def _use(tool: Tool, metres: float) -> Use:
    return Use(tool.name, tool.kind, metres, "m")
