"""Which small thing of a step is worth a second look, larger: a piece, a hole, the end of a groove; draws nothing."""

import math
from collections import Counter
from dataclasses import dataclass
from functools import reduce
from itertools import islice

from planbook.drawing.cue_area import is_spot
from planbook.drawing.cues import world_points
from planbook.drawing.cut_ends import is_shown, stopped
from planbook.drawing.look import flat
from planbook.drawing.mouths import around, in_mouth, mouth_of
from planbook.drawing.sight import in_sight, points_in_sight, runs_in_sight
from planbook.drawing.stage import Stage
from planbook.drawing.wedge import unit
from planbook.solids import Vec3
from planbook.solids.frames import dot, plus, times
from planbook.solids.hatch import clearances, inside, owners
from planbook.solids.plane import Area, Outline, Point2
from planbook.workshop.registry import operation_of
from planbook.workshop.timeline import Event

SMALL = 3.0
"""What is smaller than this on paper, mm, is enlarged."""
AROUND = 2.0
"""How much of what is around a small thing is shown with it, in its own sizes."""
MOST_AROUND = 3.6
"""The same where the edge of the face that a hole is bored near is to be seen with it: it is large enough still."""
MOST = 4
"""So many places are offered at most, for one that stands in the way may be left for another."""
TRIED = 12
"""Of so many places that are nearest to the reader those are taken that show a rounding."""
ALONE = 2.0
"""A hole is enlarged rather than others if none is nearer to it than this, in radii of what is shown."""
MOSTLY = 0.7
"""Where less than this share of what is enlarged is one piece, another place is better."""
SNUG = 1.3
"""How much of what is around a spot to be sanded is shown with it, in its own sizes: its ticks need the room."""
SPOTS, WITHIN, BEYOND = 24, 0.7, 1.3
"""That is looked at in so many places on two rings, the outer one about as large as the ring that is drawn."""
SHARP = math.cos(math.radians(45))
"""Where a line turns by more than this, as a cosine, is a corner (chords of a curve turn by much less)."""
STEP = 0.12
"""A surface is seen in the mouth of a hole that takes more than this share of it."""
_HOLES = ("diameter", "hole")


@dataclass(frozen=True, slots=True)
class Detail:
    """A place to enlarge: its middle in the world, and how far around it must be seen, mm of the object.

    `pieces` are the numbers of the pieces that it shows.
    """

    spot: Vec3
    radius: float
    pieces: tuple[int, ...] = ()


def details_of(stage: Stage, event: Event, scale: float) -> tuple[Detail, ...]:
    """The places of a step of which one is to be enlarged, the best first, where what it is about is small on paper.

    `scale` is mm of paper for one mm.
    """
    return _pieces(stage, scale) or _holes(stage, event, scale) or _cuts(stage, event, scale) or _sanded(stage, scale)


def _pieces(stage: Stage, scale: float) -> tuple[Detail, ...]:
    """The pieces that show most of those too small and alike, each with the place that it is pulled from."""
    sizes = {n: max(stage.pieces[n].piece.solid.extent) for n in stage.matters}
    small = [n for n, size in sizes.items() if size * scale < SMALL and stage.look.area_of(n) > 0]
    if not small or len(small) == len(stage.pieces):
        return ()
    ranked = sorted(small, key=lambda n: (-round(stage.look.area_of(n), 3), n))
    size = sizes[ranked[0]]
    alike = tuple(n for n in small if abs(sizes[n] - size) < 0.05 * size)
    found = []
    for shown in (stage.pieces[n] for n in ranked if n in alike):
        middle = plus(shown.piece.solid.middle, times(shown.apart, 0.5))
        found.append(Detail(middle, math.hypot(*shown.apart) / 2 + 0.8 * size, alike))
    return tuple(found[:MOST])


def _holes(stage: Stage, event: Event, scale: float) -> tuple[Detail, ...]:
    """The holes in sight, those that lie alone and nearest to the reader first.

    If some are beside a line to be sawn, only those: on which side of it they stand is what may go wrong; if some are
    in its corners, only those, which they are bored to free. Each is shown with the nearest edge of its face if that
    is near. Of holes that figures measure only those are shown, and
    without the edge, that show more than one surface: a plain one tells no more when it is larger.
    """
    settings = dict(event.settings)
    wide = max((float(settings[key]) for key in _HOLES if isinstance(settings.get(key), float)), default=0.0)
    if not 0 < wide * scale < SMALL:
        return ()
    view, axes = stage.look.view, [cue for cue in stage.show.cues if cue.kind == "drill axis"]
    mouths = [(*mouth_of(world_points(cue, stage.pieces)), cue.piece) for cue in axes]

    def crowded(mouth: Vec3) -> bool:
        return any(0 < math.dist(mouth, other) < ALONE * AROUND * wide for other, _, _ in mouths)

    # Of another hole a part would lie at the edge of the ring.
    beside = [(m, _by_line(m[0], m[2], wide, stage)) for m in mouths]
    lined = [m for m, corner in beside if corner] or [m for m, corner in beside if corner is not None]
    near = sorted(lined or mouths, key=lambda m: (crowded(m[0]), -dot(m[0], view.toward)))[: 2 * MOST]
    seen = [m for m in near if in_sight(m[0], stage.pieces, view)]
    told = not lined and stage.fence is not None and stage.fence.hole is not None
    if told:
        seen = [m for m in seen if _stepped(*m, wide, stage)]
    found = [_hole(*each, wide, stage, told) for each in seen[:MOST]]
    return tuple(detail for detail, mouth in found if mouth * scale < SMALL)


def _by_line(mouth: Vec3, piece: str, wide: float, stage: Stage) -> bool | None:
    """Whether a hole of this width, mm, is in a corner of a line of a stencil that is stuck on its piece; None if it
    does not touch a line, nor nearly.
    """
    found: list[bool] = []
    for shown in (s for s in stage.pieces if s.piece.name == piece):
        for stuck in shown.piece.stuck:
            u, v, _ = stuck.frame.local(plus(mouth, times(shown.apart, -1.0)))
            near = [outline for outline in stuck.lines.values() if outline.distance_to_edge((u, v)) < wide]
            found += [any(math.dist((u, v), at) < wide for at in _corners(outline)) for outline in near]
    return any(found) if found else None


def _corners(outline: Outline) -> list[Point2]:
    """Where a line turns sharply, and not as a curve does from chord to chord."""
    rings = [(ring[-1], *ring, ring[0]) for ring in outline.rings] if isinstance(outline, Area) else [outline.points]
    turns = [(b, unit(a, b), unit(b, c)) for ring in rings for a, b, c in zip(ring, ring[1:], ring[2:], strict=False)]
    return [at for at, one, two in turns if one[0] * two[0] + one[1] * two[1] < SHARP]


def _stepped(mouth: Vec3, out: Vec3, piece: str, bored: float, stage: Stage) -> bool:
    """Whether in the mouth of a hole more is seen than one wall: that it is sunk, or where it ends."""
    number = next((n for n, s in enumerate(stage.pieces) if s.piece.name == piece), None)
    if number is None:
        return False
    shown = stage.pieces[number]
    wide = max(bored, around(shown.piece.solid, plus(mouth, times(shown.apart, -1.0)), out)[0])
    spots = [flat(stage.look.view, point) for point in in_mouth(mouth, out, wide / 2)]
    faces_of = stage.look.of(number)
    owner = owners([face.polygons for face in faces_of], spots)
    seen = Counter(faces_of[n].surface for n in owner if n >= 0)
    return sum(count > STEP * len(spots) for count in seen.values()) > 1


def _hole(mouth: Vec3, out: Vec3, piece: str, bored: float, stage: Stage, told: bool) -> tuple[Detail, float]:
    """A hole with what is around it, and how wide it is at its mouth, mm: a sunk one is wider than what is bored.

    Of one whose place is `told` by figures the edge near it need not be seen.
    """
    number = next((n for n, s in enumerate(stage.pieces) if s.piece.name == piece), None)
    if number is None:
        return Detail(mouth, AROUND * bored), bored
    shown = stage.pieces[number]
    found, edge = around(shown.piece.solid, plus(mouth, times(shown.apart, -1.0)), out)
    wide, far = max(bored, found), math.hypot(*edge)
    radius = max(AROUND * wide, far / 2 + wide)
    if far > 0 and not told and radius < MOST_AROUND * wide:
        return Detail(plus(mouth, times(edge, 0.5)), radius, (number,)), wide
    return Detail(mouth, AROUND * wide, (number,)), wide


def _cuts(stage: Stage, event: Event, scale: float) -> tuple[Detail, ...]:
    """The ends of grooves, where their section is seen best: as near to the reader as each line comes.

    One that stops amid wood is looked at there. An edge that is broken from end to end has no line; there it is the end
    of the old edge. A rounding that is only recorded has no section, and one that is not in sight there none to show.
    """
    settings, drawn = dict(event.settings), operation_of(event).DRAWN
    wide = max((float(settings[key]) for key in drawn.section if isinstance(settings.get(key), float)), default=0.0)
    if settings.get("recorded") or not 0 < wide * scale < SMALL:
        return ()
    view = stage.look.view
    # What is rounded on two sides of a board shows on one of them.
    apart = AROUND * wide * (1.0 if drawn.rounds else 4.0)

    def nearness(point: Vec3) -> float:
        return dot(point, view.toward)

    ends = []
    for cue in (each for each in stage.show.cues if each.kind == "cut line"):
        line = world_points(cue, stage.pieces)
        seen = [p for run in runs_in_sight(line, stage.pieces, view, 1.0 / scale) for p in run]
        own = next((s for s in stage.pieces if s.piece.name == cue.piece), None)
        amid = stopped(line, seen, own) if own is not None and not drawn.rounds else []
        ends += [max(amid or seen, key=nearness)] if seen else []
    found: list[Detail] = []
    for spot in sorted(ends or _old_corners(stage), key=nearness, reverse=True):
        if len(found) < (TRIED if drawn.rounds else MOST) and all(math.dist(spot, d.spot) > apart for d in found):
            found.append(Detail(spot, AROUND * wide))
    shares = [_share(stage, detail) for detail in found]
    if drawn.rounds:
        open_ = (detail for detail, share in zip(found, shares, strict=True) if share < 1)
        return tuple(islice((d for d in open_ if is_shown(d.spot, d.radius, stage.pieces, view)), MOST))
    return tuple([detail for detail, share in zip(found, shares, strict=True) if share > MOSTLY] or found)


def _sanded(stage: Stage, scale: float) -> tuple[Detail, ...]:
    """The spots in sight that are sanded by themselves, those nearest to the reader first."""
    view, found = stage.look.view, []
    for ring in (world_points(cue, stage.pieces) for cue in stage.show.cues if is_spot(cue)):
        middle = times(reduce(plus, ring), 1 / len(ring))
        seen = [flat(view, point) for point in ring]
        wide = 2 * min(clearances((), [(*seen, seen[0])], [flat(view, middle)]))
        if wide * scale < SMALL and in_sight(middle, stage.pieces, view):
            found.append(Detail(middle, SNUG * max(math.dist(middle, point) for point in ring)))
    return tuple(sorted(found, key=lambda detail: -dot(detail.spot, view.toward))[:MOST])


def _share(stage: Stage, detail: Detail) -> float:
    """How much of what would be enlarged is one piece, and not the gap to another."""
    u, v = flat(stage.look.view, detail.spot)
    turns = [2 * math.pi * k / SPOTS for k in range(SPOTS)]
    fars = (WITHIN * detail.radius, BEYOND * detail.radius)
    spots = [(u + far * math.cos(t), v + far * math.sin(t)) for far in fars for t in turns]
    each = ([q for face in stage.look.of(n) for q in face.polygons] for n in range(len(stage.pieces)))
    return max((sum(inside(polygons, spots)) / len(spots) for polygons in each if polygons), default=0.0)


def _old_corners(stage: Stage) -> list[Vec3]:
    """Corners of the wood that was taken off the pieces that matter here, where nothing is before them now."""
    found = [
        plus((x, y, z), shown.apart)
        for shown in (stage.pieces[n] for n in stage.matters)
        for solid in shown.gone
        for x, y, z in solid.mesh[0].tolist()
    ]
    return points_in_sight(found, stage.pieces, stage.look.view)
