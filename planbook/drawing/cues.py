"""The signs of a step drawn over its pieces: where it is cut, bored, pushed, sanded, glued; names are not set here."""

import math
from collections.abc import Callable, Sequence
from functools import lru_cache

import numpy as np

from planbook.drawing.along_wood import along_wood, without_crumbs
from planbook.drawing.cue_area import glued, sanded
from planbook.drawing.ink import CUT, LINE, PAPER, Ink, accent
from planbook.drawing.look import NEAR, Look, flat, flat_all
from planbook.drawing.marks import Mark, Pen, Point, Ring, Stroke
from planbook.drawing.paper import SLIM, Paper, seen_from
from planbook.drawing.sight import entry, in_sight, runs_in_sight
from planbook.drawing.tips import tip_of
from planbook.drawing.waste_side import LONG, SIDES, ticked
from planbook.drawing.wedge import ahead, arrow, unit
from planbook.solids import AXES, FACE_FRAMES, Vec3
from planbook.solids.frames import dot, plus, times
from planbook.solids.hatch import inside, thinned
from planbook.solids.visible import Polygon2, View
from planbook.workshop.timeline import Cue, Shown

BEYOND = (1.0, 3.0)
"""How far a drill axis is drawn past its ends: least, and where no other is close, mm on paper."""
CROSS = (0.6, 2.0)
"""Least and usual length of the arms of the cross on a hole to be bored, mm on paper."""
CLOSE = (0.4, 0.6)
"""Longest arms and ends of the axis as shares of the way to the next hole."""
ASTRAY = (1.6, 2.5)
"""A cut line is in the air this far from the wood that it is drawn on: mm on paper, or mm of the object if more."""
SMALL = 4.0
"""An arrow stops before a face that is smaller, mm on paper each way: it would cover what it points at."""
SHORT = 0.4
"""So far before it, mm."""
OFF_ITS_PIECE = 2.5
"""An arrow that must stop farther than this from what is seen of its piece points at nothing, mm on paper."""
STEP = 1.0
"""How closely a line is looked at to find where it goes behind something, mm on paper."""
CUT_PENS: dict[Ink, tuple[Pen, ...]] = {
    "colour": (Pen(1.0, PAPER), Pen(0.5, CUT)),
    "black": (Pen(1.4, PAPER), Pen(1.0, LINE), Pen(0.5, PAPER)),
}
"""The pens of a cut line, the lowest first: a white bed, so that neither stripes of wood nor squares run into it."""
CUT_BEDS = tuple(pen for pens in CUT_PENS.values() for pen in pens[:-1])
PRINTED_LINE = Pen(0.25, LINE)
"""What a stencil says where it is stuck on."""
STICKS_OUT = {"drill axis": 3.5, "sand": 3.5, "cut line": 0.7, "printed line": 0.2}
"""Room that signs other than arrows may take outside their points, mm on paper."""


def world_points(cue: Cue, shown: Sequence[Shown]) -> tuple[Vec3, ...]:
    """The points of a cue, moved along with its piece, mm."""
    apart = _apart(cue, shown)
    return tuple(plus(point, apart) for point in cue.points) if any(apart) else cue.points


def points_of(cue: Cue, shown: Sequence[Shown], view: View) -> tuple[Point, ...]:
    """The points of a cue in the view, moved along with its piece, mm of the object."""
    return _points_in(cue.points, _apart(cue, shown), view)


def extent_of(cue: Cue, shown: Sequence[Shown], view: View) -> tuple[Point, ...]:
    """The lower left and the upper right corner of the rectangle around these points; none without points."""
    return _extent_in(cue.points, _apart(cue, shown), view)


def _apart(cue: Cue, shown: Sequence[Shown]) -> Vec3:
    """How far the piece of a cue is moved, mm."""
    return next((s.apart for s in shown if s.piece.name == cue.piece), (0.0, 0.0, 0.0))


@lru_cache(maxsize=256)
def _points_in(points: tuple[Vec3, ...], apart: Vec3, view: View) -> tuple[Point, ...]:
    moved = np.array(points).reshape(-1, 3) + np.asarray(apart)
    return tuple(zip(*seen_from(view, moved).T.tolist(), strict=True))


@lru_cache(maxsize=256)
def _extent_in(points: tuple[Vec3, ...], apart: Vec3, view: View) -> tuple[Point, ...]:
    """A picture asks for it again and again, and a line has a thousand points."""
    us, vs = zip(*_points_in(points, apart, view), strict=True) if points else ((), ())
    return ((min(us), min(vs)), (max(us), max(vs))) if us else ()


def on_face(cue: Cue) -> bool:
    """Whether a sign keeps to a face, and takes no room beside it."""
    over = cue.kind in ("sand", "lining") and (len(cue.points) > 2 or cue.text in FACE_FRAMES)
    return over or cue.kind == "glue face"


def sticks_out(cue: Cue) -> float:
    """How much room a sign that is no arrow takes outside its points, mm on paper."""
    return LONG if cue.text in SIDES else STICKS_OUT.get(cue.kind, 0.0)


def rooms(cues: Sequence[Cue], shown: Sequence[Shown], view: View, paper: Paper) -> list[float]:
    """How far each drill axis is from the next one, mm on paper; infinite for other signs and for one alone."""
    starts = [
        paper.put(points_of(cue, shown, view)[0]) if cue.kind == "drill axis" and cue.points else None for cue in cues
    ]
    axes = [start for start in starts if start is not None]
    far = [sorted(math.dist(start, other) for other in axes) if start is not None else [] for start in starts]
    return [each[1] if len(each) > 1 else math.inf for each in far]


def drawn(
    cue: Cue, shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink, room: float = math.inf
) -> tuple[Mark, ...]:
    """The marks of one cue; notes are set with the names, linings painted with the woods, clamps laid together.

    `room` is how far the next drill axis is, mm on paper: close ones have smaller crosses and shorter lines.
    """
    points = world_points(cue, shown)
    if points and cue.kind == "drill axis":
        return _axis(points, shown, look, paper, ink, room)
    draw = _DRAW.get(cue.kind)
    return draw(cue, points, shown, look, paper, ink) if points and draw else ()


def _cut(
    cue: Cue, points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink
) -> tuple[Mark, ...]:
    """A strong line on a white bed where it is in sight; in black ink two lines with the kerf between them.

    One that wood is taken down to has ticks on the side where that lies.
    """
    lines = _lines(cue, points, shown, look, paper)
    strokes = tuple(Stroke(line, pen, "cut line", closed) for pen in CUT_PENS[ink] for line, closed in lines)
    return (*ticked(lines, cue.text, ink), *strokes)


def _printed(
    cue: Cue, points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink
) -> tuple[Mark, ...]:
    """A line of a stencil as it is printed: nothing is cut along it yet."""
    lines = _lines(cue, points, shown, look, paper)
    return tuple(Stroke(line, PRINTED_LINE, cue.kind, closed) for line, closed in lines)


def _lines(
    cue: Cue, points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper
) -> list[tuple[Ring, bool]]:
    """What is in sight of a line on the wood, on paper, each with whether it is closed."""
    runs = runs_in_sight(points, shown, look.view, STEP / paper.scale)
    seen = [tuple(paper.put(p) for p in flat_all(look.view, run)) for run in runs]
    if points[0] != points[-1]:
        seen = along_wood(seen, _wood_of(cue, points, shown, look, paper), max(ASTRAY[0], ASTRAY[1] * paper.scale))
    lines = [_closing(line) for line in thinned(without_crumbs(seen), SLIM)]
    return [(line, closed) for line, closed in lines if len(line) > 1]


def beds_first(signs: Sequence[tuple[Mark, ...]], cues: Sequence[Cue]) -> list[tuple[Mark, ...]]:
    """The signs of a picture with the beds of all cut lines of a piece before the first: none chops one it meets.

    Lines of two pieces, of which one stands before the other, stay apart.
    """
    beds: dict[str, list[Mark]] = {}
    for marks, cue in zip(signs, cues, strict=True):
        beds.setdefault(cue.piece, []).extend(m for m in marks if isinstance(m, Stroke) and m.pen in CUT_BEDS)
    found = []
    for marks, cue in zip(signs, cues, strict=True):
        lines = tuple(m for m in marks if not (isinstance(m, Stroke) and m.pen in CUT_BEDS))
        # The widest first: no white bed lies on the black one of another line.
        first = sorted(beds.pop(cue.piece, ()), key=_wide) if len(lines) < len(marks) else ()
        found.append((*first, *lines))
    return found


def _wide(bed: Mark) -> float:
    return -bed.pen.width if isinstance(bed, Stroke) else 0.0


def _wood_of(
    cue: Cue, points: Sequence[Vec3], shown: Sequence[Shown], look: Look, paper: Paper
) -> tuple[Polygon2, ...]:
    """The faces of the piece of a cue in whose plane its line lies, on paper; all its faces if that is none of them."""
    faces = [face for face in look.faces if shown[face.piece].piece.name == cue.piece]
    beside = [f for f in faces if not f.curved and all(abs(dot(f.normal, p) - f.offset) < NEAR for p in points)]
    return paper.polygons(q for face in beside or faces for q in face.polygons)


def _closing(line: Ring) -> tuple[Ring, bool]:
    closed = len(line) > 3 and math.dist(line[0], line[-1]) < 1e-6
    return (line[:-1] if closed else line), closed


def _axis(
    points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink, room: float
) -> tuple[Mark, ...]:
    """A centre line (long dash, dot) past both ends, and a small cross where it meets wood not yet bored."""
    arm, beyond = (
        min(most, max(least, share * room)) for (least, most), share in zip((CROSS, BEYOND), CLOSE, strict=True)
    )
    pen = Pen(0.25 if arm == CROSS[1] else 0.18, accent(CUT, ink), (3.2, 0.6, 0.4, 0.6))
    start, end = (paper.put(flat(look.view, p)) for p in (points[0], points[-1]))
    marks: list[Mark] = []
    if math.dist(start, end) > 1e-6:
        along = unit(start, end)
        marks.append(Stroke((ahead(start, along, -beyond), ahead(end, along, beyond)), pen, "drill axis"))
    spot = entry(points[0], points[-1], shown)
    if spot is not None:
        marks += _cross(spot, points[0], points[-1], look.view, paper, ink, arm)
    return tuple(marks)


def _cross(spot: Vec3, start: Vec3, end: Vec3, view: View, paper: Paper, ink: Ink, arm: float) -> list[Mark]:
    """Two short lines on the face, along the two world axes that lie across the hole."""
    way = plus(end, times(start, -1.0))
    across = sorted(AXES.values(), key=lambda axis: abs(dot(axis, way)))[:2]
    x, y = paper.put(flat(view, spot))
    marks: list[Mark] = []
    pen = Pen(0.35 if arm == CROSS[1] else 0.18, accent(CUT, ink))
    for axis in across:
        u, v = (arm * each for each in flat(view, axis))
        marks.append(Stroke(((x - u, y + v), (x + u, y - v)), pen, "drill axis"))
    return marks


def _push(
    cue: Cue, points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink
) -> tuple[Mark, ...]:
    """A slim wedge that grows toward a plain head; one that points at a hidden face stops where it would vanish.

    There is none where that is away from its piece, for something else would seem to be pushed.
    """
    tip, along, length = tip_of(points, shown, look, paper)
    if in_sight(points[-1], shown, look.view):
        tip = _before(tip, along, points[-1], look, paper)
    elif _astray(cue.piece, tip, shown, look, paper):
        return ()
    return arrow(ahead(tip, along, -length), along, length, ink)


def _before(tip: Point, along: Point, spot: Vec3, look: Look, paper: Paper) -> Point:
    """The tip of an arrow drawn back off the face on which it stands, where that is small."""
    flat_faces = (f for f in look.faces if not f.curved and abs(dot(f.normal, spot) - f.offset) < NEAR)
    for polygons in (paper.polygons(face.polygons) for face in flat_faces):
        corners = np.array([p for polygon in polygons for p in polygon[0]])
        if inside(polygons, [tip])[0] and float(np.ptp(corners, axis=0).max()) < SMALL:
            back = [ahead(tip, along, -0.1 * k) for k in range(round(10 * SMALL))]
            out = int(np.argmin(inside(polygons, back)))
            return ahead(back[out], along, -SHORT)
    return tip


def _astray(name: str, tip: Point, shown: Sequence[Shown], look: Look, paper: Paper) -> bool:
    """Whether a point is away from all that is seen of a piece."""
    own = [n for n, s in enumerate(shown) if s.piece.name == name]
    seen = paper.polygons(q for n in own for face in look.of(n) for q in face.polygons)
    turns = (2 * math.pi * k / 24 for k in range(24))
    ways = [(math.cos(turn), math.sin(turn)) for turn in turns]
    about = [ahead(tip, way, share * OFF_ITS_PIECE) for way in ways for share in (0.0, 0.5, 1.0)]
    return bool(own) and not any(inside(seen, about))


_Draw = Callable[[Cue, tuple[Vec3, ...], Sequence[Shown], Look, Paper, Ink], tuple[Mark, ...]]
_DRAW: dict[str, _Draw] = {
    "cut line": _cut,
    "printed line": _printed,
    "push": _push,
    "sand": sanded,
    "glue face": glued,
}
