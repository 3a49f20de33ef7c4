"""Taking wood away: cutters, what they leave, and how the parts are pulled apart in a picture; knows no operation."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from planbook.solids import AXES, FACE_FRAMES, Area, Frame, Outline, Path, Point2, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.idle import over_wood, worked
from planbook.solids.solid import joined, nothing, prism
from planbook.text import Place
from planbook.workshop.pieces import without_crumbs
from planbook.workshop.shop import Shop
from planbook.workshop.snags import snag
from planbook.workshop.timeline import WASTE_LEFT, WASTE_RIGHT, Cue, Loss, Lost, Piece, Role, Shown, Stuck

ENCLOSED = 0.9
"""A part of which more than this share lies within the outline of another comes out of it towards the reader."""
OUT = 1.15
"""A part comes so far out of the face, in its own depths: so that the cut that it leaves shows behind it."""
RUB = 0.04
"""A part slides out of an opening in a picture that would rub with no more than this share of itself."""
FARTHER = 2.5
"""It slides no more than so many times as far as it would come out of the face: what is thin hides little there."""
SLIDES, AIR = 24, 6.0
"""At how many places on its way out of an opening a part is tried for room, and how far past it it lies, mm."""
TOUCH = 1e-6
"""Boxes that overlap by no more than this (mm) lie against one another."""
RUN_OUT = 0.5
"""How far a line of a stencil is drawn past the edge of its face, mm."""
HAIR = 0.02
"""So far beside a line it is looked which side of it is inside, mm."""
BARE = 0.5
"""Less wood than this (mm3) under a cutter means that the cut misses."""


@dataclass(frozen=True, eq=False)
class Cut:
    """What is left of a solid: its parts, and the wood that is gone."""

    parts: list[Solid]
    lost: tuple[Lost, ...]


def span(solid: Solid, frame: Frame) -> tuple[float, float]:
    """The lowest and highest height of a solid along a frame's normal, from the frame's origin, mm."""
    base = dot(frame.origin, frame.n)
    return -solid.reach(negated(frame.n)) - base, solid.reach(frame.n) - base


def through(area: Area, frame: Frame, solid: Solid) -> Solid:
    """A cutter of this cross section right through a solid."""
    low, high = span(solid, frame)
    return prism(area, frame, low - 1.0, high + 1.0)


def cut(piece: Piece, cutter: Solid, how: Loss, place: Place, shop: Shop) -> Cut:
    """Take a cutter's wood from a piece. Raises Snag where the cutter meets no wood, or leaves none."""
    gone, left = piece.solid.parted(cutter)
    if gone.volume < BARE:
        raise snag("cut-misses", place, shop.at.step, piece=piece.name)
    parts, crumbs = without_crumbs(left)
    if not parts:
        raise snag("nothing-left", place, shop.at.step, piece=piece.name)
    lost = [Lost(how, gone, gone.volume)]
    if crumbs:
        dust = joined(crumbs)
        lost.append(Lost("dust", dust, sum(c.volume for c in crumbs)))
    return Cut(parts, tuple(lost))


def halved(
    piece: Piece, face: str, near: float, far: float, how: Loss, place: Place, shop: Shop
) -> tuple[Solid, Solid, tuple[Lost, ...]]:
    """Cut parallel to a face between two depths below it: (layer, rest, lost). Raises Snag if one is empty."""
    normal = FACE_FRAMES[face].n
    top = piece.solid.reach(normal)
    layer, below = piece.solid.split(normal, top - near)
    kerf, rest = below.split(normal, top - far) if far > near else (nothing(), below)
    if rest.empty or (layer.empty and near > 0):
        depth = piece.solid.reach(normal) + piece.solid.reach(negated(normal))
        raise snag("cut-misses", place, shop.at.step, piece=piece.name, depth=depth, asked=far)
    return layer, rest, (Lost(how, kerf, kerf.volume),)


def pulled(parts: Sequence[tuple[Piece, Role]], frame: Frame) -> tuple[Shown, ...]:
    """Parts of a sawn piece pulled apart: the largest stays, the others move aside.

    What it encloses comes out in the plane of the cut where that is open, so that the cut is seen on both; else towards
    the reader.
    """
    if not parts:
        return ()
    anchor = max(parts, key=lambda p: p[0].solid.volume)[0]
    shadow = anchor.solid.shadow(frame)
    return tuple(Shown(piece, role, _apart(piece, anchor, shadow, frame)) for piece, role in parts)


def _apart(piece: Piece, anchor: Piece, shadow: Area, frame: Frame) -> Vec3:
    if piece is anchor:
        return (0.0, 0.0, 0.0)
    low, high = span(anchor.solid, frame)
    own = piece.solid.shadow(frame)
    if own.meet(shadow.hull).size > ENCLOSED * own.size:
        return _drawn_out(own, shadow, high - low, frame)
    if shadow.meet(own.hull).size > ENCLOSED * shadow.size:
        return negated(_drawn_out(shadow, own, high - low, frame))
    return sideways(shadow.centroid, own.centroid, frame, own)


def _drawn_out(own: Area, around: Area, deep: float, frame: Frame) -> Vec3:
    """How far a part moves that lies in another: in the plane of the face, or else out of the face."""
    lifted = deep * OUT + AIR
    out = _slid_out(own, around)
    if out is None or math.hypot(*out) > FARTHER * lifted:
        return times(frame.n, lifted)
    return plus(times(frame.u, out[0]), times(frame.v, out[1]))


def _slid_out(own: Area, around: Area) -> Point2 | None:
    """The shortest way, along an axis of the face, on which a part slides out of an opening past all that is around.

    None where it is free on no such way.
    """
    left, bottom, right, top = own.bounds
    low_u, low_v, high_u, high_v = around.bounds
    far = {(1, 0): high_u - left, (-1, 0): right - low_u, (0, 1): high_v - bottom, (0, -1): top - low_v}
    for (u, v), exit_ in sorted(far.items(), key=lambda way: way[1]):
        stops = (exit_ * stop / SLIDES for stop in range(1, SLIDES))
        if all(own.moved(u * by, v * by).meet(around).size < RUB * own.size for by in stops):
            return (u * (exit_ + AIR), v * (exit_ + AIR))
    return None


def sideways(start: tuple[float, float], end: tuple[float, float], frame: Frame, own: Area) -> Vec3:
    """A move in the plane of a face away from `start`, in proportion to what moves, mm."""
    du, dv = end[0] - start[0], end[1] - start[1]
    reach = math.hypot(du, dv)
    if reach < 1e-6:
        return times(frame.n, 20.0)
    left, bottom, right, top = own.bounds
    far = 12 + 0.2 * math.hypot(right - left, top - bottom)
    u, v = du / reach * far, dv / reach * far
    x, y, z = (frame.u[i] * u + frame.v[i] * v for i in range(3))
    return (x, y, z)


def stacked_apart(pieces: Sequence[tuple[Piece, Role]], axis: str, gap: float | None = None) -> tuple[Shown, ...]:
    """Pieces that lie one behind the other along an axis, spread evenly, the middle one staying."""
    way = AXES[axis]
    ordered = sorted(pieces, key=lambda p: dot(p[0].solid.middle, way))
    size = max((max(p.solid.extent) for p, _ in ordered), default=0.0)
    step = gap if gap is not None else max(8.0, 0.16 * size)
    middle = (len(ordered) - 1) / 2
    spread = {id(p): times(way, (i - middle) * step) for i, (p, _) in enumerate(ordered)}
    return tuple(Shown(p, role, spread[id(p)]) for p, role in pieces)


def laid_apart(pieces: Sequence[tuple[Piece, Role]], axis: str) -> tuple[Shown, ...]:
    """Pieces spread along an axis; what would still run into others is moved out of their way across it.

    That which is in the way of most goes first, in the direction in which it is free soonest, down if that is as good.
    """
    shown = list(stacked_apart(pieces, axis))
    gap = max(8.0, 0.16 * max((max(s.piece.solid.extent) for s in shown), default=0.0))
    for _ in shown:
        met = [sum(_meet(one, two) for two in shown if two is not one) for one in shown]
        if not any(met):
            break
        n = met.index(max(met))
        others = [other for other in shown if other is not shown[n]]
        ways = [way for name in ("z", "y", "x") if name != axis for way in (negated(AXES[name]), AXES[name])]
        far, way = min(((_free_after(shown[n], others, way), way) for way in ways), key=lambda found: found[0])
        shown[n] = replace(shown[n], apart=plus(shown[n].apart, times(way, far + gap)))
    return tuple(shown)


def _box(shown: Shown) -> tuple[Vec3, Vec3]:
    low, high = (plus(corner, shown.apart) for corner in shown.piece.solid.bounds)
    return low, high


def _meet(one: Shown, two: Shown) -> bool:
    """Whether the boxes of two pieces overlap as they are shown."""
    (low, high), (below, above) = _box(one), _box(two)
    return all(low[k] < above[k] - TOUCH and below[k] < high[k] - TOUCH for k in range(3))


def _free_after(shown: Shown, others: Sequence[Shown], way: Vec3) -> float:
    """How far a piece goes along an axis to be past all others that it would meet on the way, mm."""
    k = next(k for k in range(3) if way[k])
    (low, high), far = _box(shown), 0.0
    for below, above in map(_box, others):
        if all(low[j] < above[j] - TOUCH and below[j] < high[j] - TOUCH for j in range(3) if j != k):
            far = max(far, above[k] - low[k] if way[k] > 0 else high[k] - below[k])
    return far


def outline_cues(outline: Outline, stuck: Stuck, piece: str, taken: Area | None = None) -> list[Cue]:
    """A line of a stencil as cut lines on its face, no farther than its wood goes; and without what runs along an edge
    where nothing is `taken` off.
    """
    rings = [(*ring, ring[0]) for ring in outline.rings] if isinstance(outline, Area) else [outline.points]
    runs = worked(over_wood([Path(ring) for ring in rings], stuck.face, RUN_OUT), stuck.face, taken)
    return [line_cue(run.points, stuck.frame, piece, closed=False) for run in runs]


def line_cue(points: Iterable[tuple[float, float]], frame: Frame, piece: str, closed: bool = True) -> Cue:
    """A cut line drawn on a face."""
    world = [frame.world(u, v) for u, v in points]
    if closed and world:
        world.append(world[0])
    return Cue("cut line", tuple(world), piece)


def with_waste(cue: Cue, frame: Frame, kept: Area) -> Cue:
    """A cut line along the edge of what is kept of a face, which says on which side of it the waste lies."""
    (au, av, _), (bu, bv, _) = (frame.local(point) for point in cue.points[:2])
    long = math.hypot(bu - au, bv - av) or 1.0
    right = ((au + bu) / 2 + HAIR * (bv - av) / long, (av + bv) / 2 - HAIR * (bu - au) / long)
    return replace(cue, text=WASTE_LEFT if kept.holds(right) else WASTE_RIGHT)
