"""What every glued joint has in common: wet time, clamps, glue used, and the picture of the joint."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import reduce
from math import dist

from planbook.model import Supply
from planbook.solids import FACE_FRAMES, Area, Point2
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.plane import blank_area
from planbook.text import Place
from planbook.workshop.joints import clamp_minutes, join
from planbook.workshop.mating import LEAST, Contact, contacts
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Use

CURE_MINUTES = 1440.0
"""Cure time where the handbook has no row for the glue (common practice: 24 h before the joint is loaded)."""
_AHEAD = {"x": "right", "y": "back", "z": "top"}
"""The face to which each axis points."""
SMALL, MOST_CLAMPS = 0.25, 3
"""Joints smaller than this share of the largest one get no clamp of their own, nor more than so many."""
FULL = 0.8
"""A joint that fills this share of the hull around it is not hollow."""
END = 0.35
"""A hollow joint is pressed within this share of its length from each of its ends."""
AMPLE = 0.7
"""A clamp stands in the middle of a joint where that has this share of the room that the roomiest place has."""
BUNDLED = 0.06
"""Joints closer together than twice this share of the width of the work get one clamp."""
FOOT = 36.0
"""How wide the foot of a clamp and its block are, which stand on wood as a whole where there is room, mm."""
_SKIN = 0.05
"""A face is looked at so far under its outermost point, mm, that a rounded one is found as well."""


def cure_minutes(supply: Supply, shop: Shop) -> float:
    """How long the joint may not be worked, from the handbook's row of the glue."""
    row = shop.design.handbook.glue(supply.product)
    return float(row.cure_minutes) if row and row.cure_minutes else CURE_MINUTES


def glued(
    kind: str,
    taken: Sequence[Piece],
    placed: Sequence[Piece],
    name: str,
    supply: Supply,
    clamp: Fraction | None,
    axis: str,
    shown: tuple[Shown, ...],
    place: Place,
    shop: Shop,
) -> Outcome:
    """The outcome of gluing pieces that lie against one another. Raises Snag if they do not."""
    minutes = float(clamp) if clamp is not None else clamp_minutes(supply, shop)
    hands_on = shop.minutes(kind, len(taken) - 1)
    made, area = join(name, placed, place, shop, shop.clock + hands_on + max(minutes, cure_minutes(supply, shop)))
    face, cues = {"x": "right", "y": "front", "z": "top"}[axis], tuple[Cue, ...]()
    if shop.shown:
        met = contacts([s.piece.solid for s in shown], FACE_FRAMES[_AHEAD[axis]])
        cues = (*_pushes(shown, axis, met), *_spread(shown, axis, met))
    return Outcome(
        taken=tuple(taken),
        made=(made,),
        uses=(Use(supply.name, "glue", area / 1e6, "m2"), Use("clamps", "clamps", 1, "set")),
        show=Show(face, shown, cues),
        hands_on=hands_on,
        wait=minutes,
        settings=(("mating area", area), ("clamp", minutes), ("along", axis)),
    )


def _spread(shown: Sequence[Shown], axis: str, met: Sequence[Contact]) -> Iterator[Cue]:
    """Where glue goes, on that of two faces that is turned to the reader: to the right, to the front, upwards."""
    frame = FACE_FRAMES[_AHEAD[axis]]
    for each in met:
        name = shown[each.above if axis == "y" else each.below].piece.name
        for part in each.area.parts:
            yield Cue("glue face", tuple(frame.world(u, v, each.level) for u, v in part.rings[0]), name)


def _pushes(shown: Sequence[Shown], axis: str, met: Sequence[Contact]) -> tuple[Cue, ...]:
    """Pairs of arrows along the axis, from outside towards the joints, on wood at both ends, over what is glued."""
    frame = FACE_FRAMES[_AHEAD[axis]]
    ends = sorted(shown, key=lambda s: dot(plus(s.piece.solid.middle, s.apart), frame.n))
    if len(ends) < 2:
        return ()
    solids = ends[0].piece.solid, ends[-1].piece.solid
    levels = -solids[0].reach(negated(frame.n)), solids[1].reach(frame.n)
    faces = solids[0].section(frame, levels[0] + _SKIN), solids[1].section(frame, levels[1] - _SKIN)
    middles = [frame.local(solid.middle)[:2] for solid in solids]
    pairs = [[spot] * 2 for spot in _over_joints(faces, met)] or [_spots(middles, faces)]
    cues = []
    for spots in pairs:
        for end, level, spot, sign in zip((ends[0], ends[-1]), levels, spots, (-1.0, 1.0), strict=True):
            tip = frame.world(*spot, level)
            tail = plus(tip, times(frame.n, sign * 0.22 * max(end.piece.solid.extent)))
            cues.append(Cue("clamp", (tail, tip), end.piece.name))
    return tuple(cues)


def _over_joints(faces: Sequence[Area], met: Sequence[Contact]) -> list[Point2]:
    """Where clamps press on two faces: over the larger of the places that are glued, at both ends of a hollow one."""
    whole, wood = _through(met), faces[0].meet(faces[1])
    if whole.empty or wood.empty:
        return []
    left, low, right, high = wood.bounds
    near = BUNDLED * dist((left, low), (right, high))
    places = [whole.meet(part) for part in whole.offset(near).parts]  # what lies close together gets one clamp
    largest = max(place.size for place in places)
    places = sorted((p for p in places if p.size > SMALL * largest), key=lambda p: -p.size)[:MOST_CLAMPS]
    halves = [half for place in places for half in _halves(place)]
    return [_pressed(part) for half in halves if not (part := half.meet(wood)).empty]


def _through(met: Sequence[Contact]) -> Area:
    """Where glued faces lie on one another in all joints along the axis, or in any of them if there is no such place.

    A clamp that presses where one of the joints has no wood would bend what lies over it.
    """
    levels: dict[float, list[Area]] = {}
    for each in met:
        levels.setdefault(round(each.level, 2), []).append(each.area)
    joints = [blank_area().plus(*areas) for areas in levels.values()]
    if not joints:
        return blank_area()
    common = reduce(Area.meet, joints)
    return common if common.size > LEAST else blank_area().plus(*joints)


def _halves(place: Area) -> tuple[Area, ...]:
    """A place that is glued; the two ends of one that is hollow, as one clamp would press it askew."""
    middle = place.centroid
    if len(place.parts) > 1 or place.holds(middle) or place.size > FULL * place.hull.size:
        return (place,)
    left, low, right, high = place.bounds
    wide, tall = END * (right - left), END * (high - low)
    if right - left >= high - low:
        return place.in_box(left, low, left + wide, high), place.in_box(right - wide, low, right, high)
    return place.in_box(left, low, right, low + tall), place.in_box(left, high - tall, right, high)


def _pressed(place: Area) -> Point2:
    """A place for the foot of a clamp with wood around it: the middle, unless there is much more room elsewhere."""
    part = max(place.parts, key=lambda each: each.size)
    middle, roomiest = part.centroid, part.roomiest
    room = part.distance_to_edge(middle) if part.holds(middle) else 0.0
    return middle if room > AMPLE * part.distance_to_edge(roomiest) else roomiest


def _spots(middles: Sequence[Point2], faces: Sequence[Area]) -> list[Point2]:
    """Where a clamp presses on two faces: in their middles, or where both have wood, or each by itself.

    Its feet stand on wood as a whole, where any place has room for them.
    """
    floors = [_footing(face) for face in faces]
    if all(floor.empty or floor.holds(middle) for floor, middle in zip(floors, middles, strict=True)):
        return list(middles)
    both = _footing(faces[0].meet(faces[1]))
    near = [_nearest(both if not both.empty else floor, at) for floor, at in zip(floors, middles, strict=True)]
    return near if both.empty else near[:1] * 2


def _footing(face: Area) -> Area:
    """Where the middle of a foot may stand on a face; all of the face where it is too narrow for one."""
    floor = face.offset(-FOOT / 2)
    return face if floor.empty else floor


def _nearest(face: Area, at: Point2) -> Point2:
    """The middle of that part of a face which is nearest to a point; the point itself where it is on the face."""
    if face.empty or face.holds(at):
        return at
    return min((part.middle for part in face.parts), key=lambda middle: round(dist(middle, at), 3))
