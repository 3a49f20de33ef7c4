"""A round inset that shows a place of a picture larger: where it finds room, and its marks."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from planbook.drawing import cues, ghost
from planbook.drawing.detail import Detail
from planbook.drawing.ink import LINE, PAPER, Ink
from planbook.drawing.lettering import width_of
from planbook.drawing.look import Face, Look, flat
from planbook.drawing.marks import Fill, Mark, Pen, Point, Ring, Stroke, Words
from planbook.drawing.names import MARGIN, Box, Layout
from planbook.drawing.paint import Style, faces, lines
from planbook.drawing.paper import Paper
from planbook.drawing.stage import Stage
from planbook.solids.hatch import clearances, clip_each, clip_lines, taken
from planbook.solids.plane import Point2
from planbook.solids.shares import overlaps
from planbook.solids.visible import Polygon2

RADII = (10.0, 8.5, 7.0)
"""Radius of an inset, mm: the largest for which there is room."""
TIMES = (2, 3, 4, 5, 6, 8, 10, 12)
"""How many times larger an inset may show its place."""
AIR = 1.2
"""Between an inset and anything else, mm."""
LETTERS = 2.6
"""Type size of the scale, mm (7.4 points): no smaller than numbers on names and dimensions."""
FOOT = 1.4 * LETTERS
"""Room that the scale takes above or below the inset, mm."""
RING = Pen(0.18, LINE)
_GRID = 2.0
_SOME = 100
"""So many places are looked at in one go, the nearest first."""


@dataclass(frozen=True, slots=True)
class Inset:
    """Where an inset stands on paper: its middle and radius, mm, and how many times larger it shows its place.

    `above` says that the scale stands over it, since the line to its place leaves it below.
    """

    detail: Detail
    middle: Point
    radius: float
    times: int
    above: bool = False


def placed(detail: Detail, stage: Stage, layout: Layout, height: float, signs: Sequence[Ring]) -> Inset | None:
    """The largest inset for which there is room on the paper of a layout, as near to its place as can be.

    `height` is the most the picture may be high, mm; it keeps clear of the lines of `signs`.
    """
    spot = layout.paper.put(flat(stage.look.view, detail.spot))
    shapes = layout.paper.polygons(q for face in stage.look.faces for q in face.polygons)
    boxes = [boxed(label.box) for label in layout.labels]
    runs = [(label.start, label.dot) for label in layout.labels if label.side != "on"]
    ground = taken([*shapes, *boxes], [*runs, *signs])
    for radius in RADII:
        larger = _larger(detail, layout.paper.scale, radius)
        if larger is None:
            continue
        spots = sorted(_spots(layout.width, height, radius), key=lambda s: (round(math.dist(s, spot), 3), s))
        wide = width_of(_scale(larger), LETTERS) / 2
        around = circle(spot, radius / larger)
        for some in (spots[start : start + _SOME] for start in range(0, len(spots), _SOME)):
            free = [s for s, far in zip(some, ground.clearances(some), strict=True) if far > radius + AIR]
            over = [_crossed(spot, middle, radius, wide) for middle in free]
            feet = [_foot(middle, radius, up) for middle, up in zip(free, over, strict=True)]
            off = [far - AIR / 2 for far in clearances((), [around], feet)]
            for middle, up, foot in zip(free, over, map(min, ground.clearances(feet), off), strict=True):
                fits = foot > wide + 0.3 and (not up or middle[1] > radius + MARGIN + FOOT)
                if fits and not clip_lines(boxes, [(spot, middle)]):
                    return Inset(detail, middle, radius, larger, up)
    return None


def _foot(middle: Point, radius: float, above: bool) -> Point:
    """The middle of the scale below an inset, or above it."""
    return (middle[0], middle[1] + (-1 if above else 1) * (radius + 0.7 * LETTERS))


def _crossed(spot: Point, middle: Point, radius: float, wide: float) -> bool:
    """Whether the line from an inset to its place would run through words that are `wide` mm to each side below it."""
    across, down = spot[0] - middle[0], spot[1] - middle[1]
    return down > 0 and abs(across) * radius < down * (wide + 0.5)


def beside(detail: Detail, stage: Stage, layout: Layout, left: float) -> Inset | None:
    """An inset in a strip that was kept free for it, from `left` on; its height follows its place."""
    radius = RADII[-1]
    larger = _larger(detail, layout.paper.scale, radius)
    y = layout.paper.put(flat(stage.look.view, detail.spot))[1]
    lowest = max(layout.height - radius - MARGIN - FOOT, radius + MARGIN)
    middle = (left + radius, min(max(y, radius + MARGIN), lowest))
    return Inset(detail, middle, radius, larger) if larger is not None else None


def place_of(detail: Detail, stage: Stage, paper: Paper) -> Ring:
    """The largest ring that may be drawn around a place to enlarge, on paper."""
    found = [(radius, _larger(detail, paper.scale, radius)) for radius in RADII]
    rings = [radius / larger for radius, larger in found if larger is not None]
    return circle(paper.put(flat(stage.look.view, detail.spot)), max(rings, default=detail.radius * paper.scale))


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
    part = _clipped(stage.look, spot, inset.radius / scale)
    disc = circle(inset.middle, inset.radius)
    ring = circle(paper.put(spot), inset.radius / inset.times)
    signs = _signs(stage, part, near, inset, style.ink)
    before = clip_lines([(circle(spot, inset.radius / scale), ())], ghost.outline_near(stage.pieces, part))
    past = ghost.drawn(before, part, near, ghost.lines_of(signs), ghost.AWAY_NEAR)
    work = (*faces(part, near, style), *past, *lines(part, near, style))
    return (
        *_tied(paper.put(spot), inset, ring),
        Fill((disc,), PAPER, "inset"),
        *work,
        *signs,
        Stroke(disc, Pen(0.35, LINE), "inset", closed=True),
        _label(inset),
    )


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


def _toward(one: Point, two: Point, share: float) -> Point:
    return (one[0] + share * (two[0] - one[0]), one[1] + share * (two[1] - one[1]))


def _signs(stage: Stage, part: Look, near: Paper, inset: Inset, ink: Ink) -> list[Mark]:
    """The signs that are lines, cut to the inset."""
    disc: tuple[Polygon2, ...] = ((circle(inset.middle, inset.radius)[::-1], ()),)
    lines_of = (cue for cue in stage.show.cues if cue.kind in ("cut line", "drill axis"))
    marks = (mark for cue in lines_of for mark in cues.drawn(cue, stage.pieces, part, near, ink))
    strokes = [mark for mark in marks if isinstance(mark, Stroke)]
    whole = [(*mark.points, mark.points[0]) if mark.closed else mark.points for mark in strokes]
    return [replace(strokes[k], points=run, closed=False) for k, run in clip_each(disc, whole)]


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


def _larger(detail: Detail, scale: float, radius: float) -> int | None:
    """How many times larger the place may be drawn so that all of it is within the ring; None if hardly larger."""
    return next((k for k in reversed(TIMES) if k * detail.radius * scale <= radius), None)


def _spots(width: float, height: float, radius: float) -> list[Point]:
    """Where the middle of an inset may lie on the paper."""
    edge, foot = radius + MARGIN, radius + MARGIN + FOOT
    across, down = (max(0, int((room - edge - end) / _GRID)) for room, end in ((width, edge), (height, foot)))
    if width < 2 * edge or height < edge + foot:
        return []
    return [(edge + _GRID * i, edge + _GRID * k) for i in range(across + 1) for k in range(down + 1)]


def _label(inset: Inset) -> Words:
    x, y = inset.middle
    base = y - inset.radius - 0.35 * LETTERS if inset.above else y + inset.radius + LETTERS
    return Words((x, base), _scale(inset.times), LETTERS, "middle", layer="inset scale")


def _scale(larger: int) -> str:
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
