"""What is seen, in colour and line: faces in their wood and light, hatching on waste, lines in their pens."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from planbook.drawing.crowded import told_apart
from planbook.drawing.ink import (
    HATCH,
    LEVELS,
    LINE,
    NEW,
    PAPER,
    QUIET,
    SHEET,
    SQUARE,
    SQUARES,
    Ink,
    Pens,
    accent,
    base,
    level_light,
    light,
    lining,
    painted,
    squared,
    tone,
)
from planbook.drawing.look import Face, Line, Look, Placed
from planbook.drawing.marks import Fill, Mark, Pen, Ring, Stroke
from planbook.drawing.paper import Paper, seen_from
from planbook.drawing.surfaces import LINED
from planbook.handbook import BUILT_IN, Handbook
from planbook.solids import Area, Outline, Vec3
from planbook.solids.frames import plus
from planbook.solids.hatch import clip_lines, hatching, united
from planbook.solids.shares import left_of, overlap
from planbook.solids.visible import Polygon2, View
from planbook.workshop.timeline import Role, Stuck

SPACING = 1.7
"""Between the hatch lines of waste, mm on paper."""
FELT, DOTTED, DOTS = "felt", 0.9, Pen(0.3, PAPER, (0.3, 0.6))
"""Layer, distance and pen of the dots of a lining in black ink, mm on paper."""
SHADOW = "#1c0000"
"""What curved surfaces are shaded with: to a hundredth the colour that a flat one has in the same light."""
UNSEEN = "unseen: "
"""Start of the layer of the dashed lines of a piece that is hidden; the name follows."""
STUCK, THIN_PAPER = "sheet", 0.62
"""Layer of the stencils that are stuck on, and how much of the wood they cover."""
STENCIL_LINE, PRINTED = "stencil line", Pen(0.18, QUIET)
"""Layer and pen of the lines of a stencil that is stuck on."""
NEW_OUTLINE, CALM_OUTLINE = "new outline", "calm outline"
"""Layers of the outlines of what is new, and of what only stands by; a reader is told of both."""
_OUTLINES: dict[Role, str] = {"new": NEW_OUTLINE, "context": CALM_OUTLINE}
_ORDER = ("seam", "crease", "outline")
_RANK: dict[Role, int] = {"context": 0, "waste": 1, "worked": 2, "new": 3}


@dataclass(frozen=True, slots=True)
class Style:
    """How pieces are painted: role of each by number, pens and ink."""

    roles: tuple[Role, ...]
    pens: Pens
    ink: Ink
    book: Handbook = BUILT_IN

    def tint(self, wood: str) -> str:
        """The tint of a wood; empty where the handbook does not know it."""
        row = self.book.wood(wood)
        return row.tint if row is not None else ""


def faces(look: Look, paper: Paper, style: Style) -> tuple[Mark, ...]:
    """The faces in their colours, other woods on them, the shade of curved ones, the dots of felt in black ink."""
    grounds, inlays = (_fills(layer, look, paper, style) for layer in (look.faces, look.inlays))
    return (*grounds, *inlays, *_shades(look, paper, style), *_felt(look, paper, style.ink))


def _fills(faces: Sequence[Face], look: Look, paper: Paper, style: Style) -> list[Mark]:
    """Fills, neighbours of one colour in one mark."""
    by_colour: dict[tuple[str, str], list[Polygon2]] = {}
    for face in faces:
        kind = "lining" if face.wood == LINED else "face"
        by_colour.setdefault((_colour(face, look, style), kind), []).extend(face.polygons)
    filled = zip(by_colour, paper.all_rings(by_colour.values()), strict=True)
    return [Fill(rings, colour, kind) for (colour, kind), rings in filled if rings]


def _colour(face: Face, look: Look, style: Style) -> str:
    amount = 1.0 if face.curved else light(face.normal, look.view)
    role = style.roles[face.piece]
    own = lining(role, style.ink) if face.wood == LINED else base(style.tint(face.wood), role, style.ink)
    return painted(own, _eased(tone(amount, style.ink), role), style.ink)


def _eased(factor: float, role: Role) -> float:
    """Pieces that stand by are shaded less."""
    return 1.0 - (1.0 - factor) * 0.5 if role in ("context", "waste") else factor


def _shades(look: Look, paper: Paper, style: Style) -> list[Mark]:
    by_depth: dict[float, list[Polygon2]] = {}
    for shade in look.shades:
        factor = _eased(tone(level_light(shade.level), style.ink), style.roles[shade.piece])
        by_depth.setdefault(round(1.0 - factor, 2), []).extend(shade.polygons)
    dark = SHADOW if style.ink == "colour" else "#000000"
    depths = [depth for depth in sorted(by_depth) if depth > 1.0 / (4 * LEVELS * LEVELS)]
    filled = zip(depths, paper.all_rings(by_depth[depth] for depth in depths), strict=True)
    return [Fill(rings, dark, "shade", opacity) for opacity, rings in filled if rings]


def _felt(look: Look, paper: Paper, ink: Ink) -> list[Mark]:
    """Pale dots on linings, whose tone is that of a shaded wood where there is only black ink."""
    if ink != "black":
        return []
    lined = [q for face in look.faces if face.wood == LINED for q in _bare(face, look)]
    lined += [q for face in look.inlays if face.wood == LINED for q in face.polygons]
    if not lined:
        return []
    return [Stroke(line, DOTS, FELT) for line in hatching(paper.polygons(lined), DOTTED, 30.0)]


def _bare(face: Face, look: Look) -> tuple[Polygon2, ...]:
    """What of a face has no other wood on it: a lining that fills most of a surface need not fill all of it."""
    on_it = [each for each in look.inlays if (each.piece, each.surface) == (face.piece, face.surface)]
    return left_of(face.polygons, [q for each in on_it for q in each.polygons])


def hatch(look: Look, paper: Paper, style: Style) -> list[Mark]:
    """The hatching of waste; it lies over the stencils, whose paper would make it as pale as their squares."""
    pen = Pen(HATCH, QUIET if style.ink == "colour" else LINE)
    waste = (q for face in look.faces if style.roles[face.piece] == "waste" for q in face.polygons)
    return [Stroke(line, pen, "hatch") for line in hatching(paper.polygons(waste), SPACING)]


def sheets(look: Look, placed: Sequence[Placed], paper: Paper, ink: Ink) -> tuple[Mark, ...]:
    """The stencils that are stuck on: thin paper over the part of their face that is seen, and what is printed on it.

    In black ink the paper is squared.
    """
    found = papered(look, placed)
    covered = [polygon for each in found for polygon in each.seen]
    rings = paper.rings(united(covered)) if covered else ()
    if not rings:
        return ()
    squares = _squares(covered, paper) if ink == "black" else ()
    printed = [line for each in found for line in _printed(each, look.view, paper)]
    return (Fill(rings, SHEET, STUCK, THIN_PAPER), *squares, *printed)


def _squares(covered: Sequence[Polygon2], paper: Paper) -> Sequence[Stroke]:
    xs, ys = zip(*(point for outer, _ in covered for point in outer), strict=True)
    every = squared((min(xs), min(ys), max(xs), max(ys)), SQUARE / paper.scale)
    seen = clip_lines(covered, every) if every else ()
    return [Stroke(line, SQUARES, STUCK) for line in paper.lines(seen) if _long_enough(line)]


@dataclass(frozen=True, eq=False, slots=True)
class Papered:
    """A stencil that is stuck on a piece, how far that is moved, mm, and what is seen of it, mm of the view."""

    stuck: Stuck
    by: Vec3
    seen: tuple[Polygon2, ...]


def papered(look: Look, placed: Sequence[Placed]) -> list[Papered]:
    """The stencils that are stuck on and not wholly hidden."""
    found: list[Papered] = []
    for number, (piece, by) in enumerate(placed):
        for stuck in piece.stuck:
            spot = plus(stuck.frame.origin, by)
            faces_of = (f for f in look.faces if f.piece == number and f.lies_on(spot, stuck.frame.n))
            seen = [polygon for face in faces_of for polygon in face.polygons]
            covered = overlap(seen, _even_odd(_laid(stuck.face.rings, stuck, by, look.view))) if seen else ()
            if covered:
                found.append(Papered(stuck, by, tuple(covered)))
    return found


def _printed(sheet: Papered, view: View, paper: Paper) -> list[Stroke]:
    """The lines of a stencil on its paper: by them a hole, a cut or a part is found again."""
    outlines = sheet.stuck.lines.values()
    every = [ring for outline in outlines for ring in _laid(_closed(outline), sheet.stuck, sheet.by, view)]
    seen = clip_lines(sheet.seen, every) if every else ()
    return [Stroke(line, PRINTED, STENCIL_LINE) for line in paper.lines(seen) if _long_enough(line)]


def _closed(outline: Outline) -> list[Ring]:
    return [(*r, r[0]) for r in outline.rings] if isinstance(outline, Area) else [outline.points]


def _laid(rings: Sequence[Ring], stuck: Stuck, by: Vec3, view: View) -> list[Ring]:
    """Lines on the face that a stencil lies on, in the view."""
    frame, found = stuck.frame, []
    for ring in rings:
        u, v = np.array(ring)[:, :, None].swapaxes(0, 1)
        world = np.array(frame.origin) + (u * np.array(frame.u) + v * np.array(frame.v)) + np.array(by)
        found.append(tuple(zip(*seen_from(view, world).T.tolist(), strict=True)))
    return found


def _even_odd(rings: Sequence[Ring]) -> tuple[Polygon2, ...]:
    """Rings of an area, outer ones counter-clockwise, as polygons; a hole goes to the outer ring before it."""
    found: list[tuple[Ring, list[Ring]]] = []
    for ring in rings:
        turn = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
        if turn > 0 or not found:
            found.append((ring, []))
        else:
            found[-1][1].append(ring)
    return tuple((outer, tuple(holes)) for outer, holes in found)


def lines(look: Look, paper: Paper, style: Style) -> tuple[Mark, ...]:
    """The visible lines: thin under thick, and those of the pieces that matter most on top; none run into another."""

    def rank(line: Line) -> tuple[int, int, int]:
        return (_ORDER.index(line.kind), _RANK[style.roles[line.piece]], line.piece)

    shown = sorted((line for line in look.lines if line.kind in _ORDER), key=rank)
    strokes = []
    for line, points in zip(shown, paper.lines(line.points for line in shown), strict=True):
        role = style.roles[line.piece]
        layer = _OUTLINES.get(role, line.kind) if line.kind == "outline" else line.kind
        strokes.append(_stroke(points, style.pens.of(line.kind, role, style.ink), layer))
    return told_apart([stroke for stroke in strokes if _long_enough(stroke.points)])


def dashed(hidden: Sequence[Line], name: str, paper: Paper, style: Style) -> tuple[Mark, ...]:
    """The lines of a piece that cannot be seen, in the thin dashes of hidden edges."""
    pen = Pen(style.pens.crease, accent(NEW, style.ink), (1.6, 0.9))
    strokes = (_stroke(paper.line(line.points), pen, UNSEEN + name) for line in hidden)
    return tuple(stroke for stroke in strokes if _long_enough(stroke.points))


def _stroke(points: Ring, pen: Pen, layer: str) -> Stroke:
    if len(points) > 3 and points[0] == points[-1]:
        return Stroke(points[:-1], pen, layer, closed=True)
    return Stroke(points, pen, layer)


def _long_enough(points: Ring) -> bool:
    """Whether a line is more than a point, and not the rim of a sliver that runs there and back."""
    if len(points) == 3 and points[0] == points[-1]:
        return False
    return len(points) > 1 and any(abs(a - b) > 0.01 for p, q in pairwise(points) for a, b in zip(p, q, strict=True))
