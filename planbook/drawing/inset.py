"""The marks of a round inset that shows a place of a picture larger; where it stands is decided elsewhere."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from planbook.drawing import cues, ghost
from planbook.drawing.cue_area import is_spot
from planbook.drawing.detail import Detail
from planbook.drawing.ink import LINE, PAPER, Ink
from planbook.drawing.lettering import width_of
from planbook.drawing.look import Face, Look, flat
from planbook.drawing.marks import Fill, Mark, Pen, Point, Ring, Stroke, Words
from planbook.drawing.names import Box
from planbook.drawing.paint import Style, faces, hatch, lines, sheets
from planbook.drawing.paper import Paper
from planbook.drawing.stage import Stage
from planbook.solids.hatch import clearances, clip_each, clip_lines, inside
from planbook.solids.plane import Point2
from planbook.solids.shares import overlaps
from planbook.solids.visible import Polygon2

RADII = (10.0, 8.5, 7.0)
"""Radius of an inset, mm: the largest for which there is room."""
AIR = 1.2
"""Between an inset and anything else, mm."""
CLEAR = 2.0
"""Between an inset and the ring around its place, mm, so that the line between them is seen."""
LETTERS = 2.6
"""Type size of the scale, mm (7.4 points): no smaller than numbers on names and dimensions."""
FOOT = 1.4 * LETTERS
"""Room that the scale takes above or below the inset, mm."""
RING = Pen(0.18, LINE)
SCRAP, RIM = 2.5, 0.8
"""A line of wood that is gone which is no longer than this in an inset, and as near to its rim, mm, is a scrap."""
SLIVER, GAP = 0.12, 0.02
"""Less than this share of what is enlarged is a sliver of a piece, if it is so far (in diameters) from all others."""


@dataclass(frozen=True, slots=True)
class Inset:
    """Where an inset stands on paper: its middle and radius, mm, and how many times larger it shows its place.

    `above` says that the scale stands over it, since the line to its place leaves it below; `cost` is how long that
    line is, mm, and more for what it crosses.
    """

    detail: Detail
    middle: Point
    radius: float
    times: int
    above: bool = False
    cost: float = 0.0


def strip() -> float:
    """Width of paper kept free for an inset that finds no room, mm."""
    return 2 * RADII[-1] + 2 * AIR


def low(inset: Inset) -> float:
    """How far down the paper an inset comes with its scale, mm."""
    return inset.middle[1] + inset.radius + (0.0 if inset.above else FOOT)


def drawn(inset: Inset, stage: Stage, paper: Paper, style: Style) -> tuple[Mark, ...]:
    """The enlarged place in its ring, the ring around the place itself, the line between them, and the scale."""
    view = stage.look.view
    spot = flat(view, inset.detail.spot)
    scale = paper.scale * inset.times
    near = Paper(scale, inset.middle[0] - scale * spot[0], inset.middle[1] + scale * spot[1])
    part = _without_slivers(_clipped(stage.look, spot, inset.radius / scale), inset.detail.pieces)
    disc = circle(inset.middle, inset.radius)
    ring = ring_of(inset, stage, paper)
    signs = _signs(stage, part, near, inset, style.ink)
    before = clip_lines([(circle(spot, inset.radius / scale), ())], ghost.outline_near(stage.pieces, part))
    old = ghost.drawn(before, part, near, ghost.lines_of(signs), ghost.AWAY_NEAR)
    past = [mark for mark in old if not _at_rim(mark.points, inset)]
    stuck = sheets(part, stage.placed, near, style.ink)
    work = (*faces(part, near, style), *stuck, *hatch(part, near, style), *past, *lines(part, near, style))
    return (
        *_tied(paper.put(spot), inset, ring),
        Fill((disc,), PAPER, "inset"),
        *work,
        *signs,
        Stroke(disc, Pen(0.35, LINE), "inset", closed=True),
        _label(inset),
    )


def ring_of(inset: Inset, stage: Stage, paper: Paper) -> Ring:
    """The ring around the place that an inset enlarges, on the paper of the picture."""
    return circle(paper.put(flat(stage.look.view, inset.detail.spot)), inset.radius / inset.times)


def shapes_of(inset: Inset) -> list[Polygon2]:
    """What an inset covers on paper: its disc, and the scale with it."""
    (x, y), wide = inset.middle, width_of(scale_text(inset.times), LETTERS) / 2
    foot = (y - inset.radius - FOOT, y) if inset.above else (y, y + inset.radius + FOOT)
    return [(circle(inset.middle, inset.radius), ()), boxed((x - wide, foot[0], x + wide, foot[1]))]


def wires_of(inset: Inset, stage: Stage, paper: Paper) -> list[Ring]:
    """The ring around the place of an inset, and the line to it."""
    spot, ring = paper.put(flat(stage.look.view, inset.detail.spot)), ring_of(inset, stage, paper)
    tie = _tied(spot, inset, ring)
    return [mark.points for mark in tie if isinstance(mark, Stroke)] + [(*ring, ring[0])]


def _tied(spot: Point, inset: Inset, ring: Ring) -> tuple[Mark, ...]:
    far = math.dist(spot, inset.middle)
    small = inset.radius / inset.times
    marks: list[Mark] = [
        Stroke(ring, Pen(RING.width + 0.5, PAPER), "inset bed", closed=True),
        Stroke(ring, RING, "inset place", closed=True),
    ]
    if far > inset.radius + small:
        ends = (_toward(spot, inset.middle, small / far), _toward(spot, inset.middle, 1 - inset.radius / far))
        marks = [Stroke(ends, Pen(RING.width + 0.4, PAPER), "inset bed"), Stroke(ends, RING, "inset line"), *marks]
    return tuple(marks)


def _at_rim(line: Ring, inset: Inset) -> bool:
    """Whether a line is a scrap that comes into an inset at its rim."""
    long = sum(math.dist(a, b) for a, b in pairwise(line))
    out = max(math.dist(end, inset.middle) for end in (line[0], line[-1]))
    return long < SCRAP and out > inset.radius - RIM


def _toward(one: Point, two: Point, share: float) -> Point:
    return (one[0] + share * (two[0] - one[0]), one[1] + share * (two[1] - one[1]))


def _signs(stage: Stage, part: Look, near: Paper, inset: Inset, ink: Ink) -> list[Mark]:
    """The signs that are lines, and the ticks of small spots, cut to the inset; and the rings for glue in it."""
    kinds = ("cut line", "printed line", "drill axis", "glue face")
    lines_of = [cue for cue in stage.show.cues if cue.kind in kinds or is_spot(cue)]
    drawn = cues.beds_first([cues.drawn(cue, stage.pieces, part, near, ink) for cue in lines_of], lines_of)
    every = [mark for marks in drawn for mark in marks if isinstance(mark, Stroke)]
    rings = [mark for mark in every if len(mark.points) == 1]
    strokes = [mark for mark in every if len(mark.points) > 1]
    return [*rings, *_within(inset, strokes)]


def _within(inset: Inset, strokes: Sequence[Stroke]) -> Iterator[Stroke]:
    """Strokes cut to an inset with their round ends, in their order."""
    cut: dict[int, list[Ring]] = {}
    for width in {mark.pen.width for mark in strokes}:
        disc: tuple[Polygon2, ...] = ((circle(inset.middle, inset.radius - width / 2)[::-1], ()),)
        mine = [k for k, mark in enumerate(strokes) if mark.pen.width == width]
        whole = [(*strokes[k].points, strokes[k].points[0]) if strokes[k].closed else strokes[k].points for k in mine]
        for n, run in clip_each(disc, whole):
            cut.setdefault(mine[n], []).append(run)
    yield from (replace(strokes[k], points=run, closed=False) for k in sorted(cut) for run in cut[k])


def _clipped(look: Look, spot: Point2, radius: float) -> Look:
    """What is seen of the pieces within a circle of the view."""
    disc: tuple[Polygon2, ...] = ((circle(spot, radius), ()),)
    box = (spot[0] - radius, spot[1] - radius, spot[0] + radius, spot[1] + radius)
    cut_shades = overlaps([_near(shade.polygons, box) for shade in look.shades], disc)
    shades = tuple(replace(shade, polygons=cut) for shade, cut in zip(look.shades, cut_shades, strict=True) if cut)
    meeting = [line for line in look.lines if _meets([line.points], box)]
    drawn = tuple(replace(meeting[k], points=run) for k, run in clip_each(disc, (line.points for line in meeting)))
    return replace(
        look,
        faces=_cut_faces(look.faces, disc, box),
        inlays=_cut_faces(look.inlays, disc, box),
        shades=shades,
        lines=drawn,
        bounds=box,
    )


def _without_slivers(part: Look, wanted: Sequence[int]) -> Look:
    """What is enlarged without the bits of pieces that only come into it at its rim: nobody could tell what they are.

    None is left out that is `wanted`, or that touches another piece.
    """
    wide = part.bounds[2] - part.bounds[0]
    areas: dict[int, float] = {}
    for face in part.faces:
        areas[face.piece] = areas.get(face.piece, 0.0) + sum(_area(ring) for ring, _ in face.polygons)
    gap, least = GAP * wide, SLIVER * math.pi / 4 * wide**2
    slivers = {n for n, area in areas.items() if area < min(least, max(areas.values())) and n not in wanted}
    for n in sorted(slivers):
        others = [q for face in part.faces if face.piece != n for q in face.polygons]
        mine = [p for face in part.faces if face.piece == n for ring, _ in face.polygons for p in ring]
        if min(clearances(others, (), mine), default=0.0) < gap or any(inside(others, mine)):
            slivers.discard(n)
    return replace(
        part,
        faces=tuple(face for face in part.faces if face.piece not in slivers),
        inlays=tuple(face for face in part.inlays if face.piece not in slivers),
        shades=tuple(shade for shade in part.shades if shade.piece not in slivers),
        lines=tuple(line for line in part.lines if line.piece not in slivers),
    )


def _area(ring: Ring) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2


def _cut_faces(
    faces_of: Sequence[Face], disc: tuple[Polygon2, ...], box: tuple[float, float, float, float]
) -> tuple[Face, ...]:
    cuts = overlaps([_near(face.polygons, box) for face in faces_of], disc)
    return tuple(replace(face, polygons=cut) for face, cut in zip(faces_of, cuts, strict=True) if cut)


def _near(polygons: Sequence[Polygon2], box: tuple[float, float, float, float]) -> list[Polygon2]:
    return [polygon for polygon in polygons if _meets([polygon[0]], box)]


def _meets(lines_of: Sequence[Sequence[Point2]], box: tuple[float, float, float, float]) -> bool:
    points = [p for line in lines_of for p in line]
    us, vs = [p[0] for p in points], [p[1] for p in points]
    return min(us) < box[2] and max(us) > box[0] and min(vs) < box[3] and max(vs) > box[1]


def _label(inset: Inset) -> Words:
    x, y = inset.middle
    base = y - inset.radius - 0.35 * LETTERS if inset.above else y + inset.radius + LETTERS
    return Words((x, base), scale_text(inset.times), LETTERS, "middle", layer="inset scale")


def scale_text(larger: int) -> str:
    """How many times larger an inset shows its place, in writing."""
    return f"{larger} : 1"


def boxed(corners: Box) -> Polygon2:
    """A box as a polygon."""
    left, top, right, bottom = corners
    return (((left, top), (right, top), (right, bottom), (left, bottom)), ())


def circle(middle: Point, radius: float) -> Ring:
    """A circle as a ring of chords that print as a curve."""
    steps = 72
    turns = [2 * math.pi * k / steps for k in range(steps)]
    return tuple((middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t)) for t in turns)
