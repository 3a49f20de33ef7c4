"""Where clamps press on what is glued: over the joints, on wood with room around the foot; draws nothing."""

from collections.abc import Sequence
from dataclasses import replace
from functools import reduce
from math import dist

from planbook.solids import Area, Frame, Point2, Solid, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.plane import blank_area, circle
from planbook.workshop.mating import LEAST, Contact
from planbook.workshop.reaching import Grip, within_reach
from planbook.workshop.timeline import REACHING, Cue, Shown
from planbook.workshop.wood_between import wood_between

SMALL, MOST_CLAMPS = 0.25, 3
"""Joints smaller than this share of the largest one get no clamp of their own, nor more than so many."""
FULL = 0.8
"""A joint that fills this share of the hull around it is not hollow."""
END = 0.35
"""A hollow joint is pressed within this share of its length from each of its ends."""
LONG, NARROW = 250.0, 4.0
"""A joint longer than this, mm, and so many times as long as it is wide, is pressed in two places."""
BROAD = 14000.0
"""A joint larger than this, mm2, is pressed in two places as well: a clamp presses no wider than its jaws and the wood
around them (common practice: one every 150 to 200 mm, in two rows on wide boards)."""
WIDE = 150.0
"""One that is wider than this as well, mm, is pressed in two rows."""
FAR, SLIGHT = 150.0, 0.02
"""No wood of a joint, but for this share of it, is farther than so many mm from where it is pressed."""
THIN, ACROSS, NEARBY, STEP = 75.0, 0.3, 30.0, 7.5
"""The same of a hollow joint, all walls, which carry less far: so many mm, or this share of what it measures from
corner to corner, along its wood, which is followed by so many mm at once. A foot stands on the roomiest wood within so
many mm of the middle of what is too far away."""
ROUGH = 0.1
"""How far pressure is carried is found to so many mm."""
AMPLE, FOOT = 0.7, 25.0
"""A place is as good as the roomiest where it has this share of the room around it; it is moved to where there is most
room near by if there is less than a foot takes, mm from its middle."""
SHARES = (0.95, 0.9, 0.8)
"""These shares of the room are sought near by, one after the other."""
BARE = 2.0
"""Wood all the way across is pressed on where it is so wide, mm from its middle to its edges."""
BUNDLED = 0.06
"""Joints closer together than twice this share of the width of the work get one clamp."""
MOSTLY = 0.5
"""A foot stands on the outermost face if that has this share of the place; else on what lies over the joint."""
LENGTH = 0.22
"""An arrow is as long as this share of the longest side of its piece."""
_SKIN = 0.05
"""A face is looked at so far under its outermost point, mm, that a rounded one is found as well."""


def clamped(shown: Sequence[Shown], frame: Frame, met: Sequence[Contact]) -> tuple[Cue, ...]:
    """Pairs of arrows along a frame's normal, from outside towards the joints, on the wood at both ends.

    `met` are the joints across the normal; where there are none, the clamps press on what both ends have in common.
    """
    ends = sorted(shown, key=lambda s: dot(plus(s.piece.solid.middle, s.apart), frame.n))
    if len(ends) < 2:
        return ()
    both = (ends[0], negated(frame.n)), (ends[-1], frame.n)
    solids = [end.piece.solid for end, _ in both]
    faces = [_flat(solid, frame, way) for solid, (_, way) in zip(solids, both, strict=True)]
    between = [each.piece.solid for each in shown]
    sound = wood_between(between, frame)
    found = spots(faces, solids, frame, met, between, sound)
    cues = [_arrow(end, way, frame, spot) for pair in found for (end, way), spot in zip(both, pair, strict=True)]
    reached = within_reach(between, frame, met, sound, [spot for spot, _ in found])
    return (*cues, *(_reaching(shown, each, way, frame) for each in reached for way in (negated(frame.n), frame.n)))


def _reaching(shown: Sequence[Shown], grip: Grip, way: Vec3, frame: Frame) -> Cue:
    """An arrow towards one of the two pieces between the jaws of a clamp that reaches in through an opening."""
    ahead = dot(way, frame.n) > 0
    tip = frame.world(*grip.spot, grip.high if ahead else grip.low)
    end = shown[grip.last if ahead else grip.first]
    far = LENGTH * max(end.piece.solid.extent)
    return Cue("clamp", (plus(tip, times(way, far)), tip), end.piece.name, REACHING)


def pulled(shown: Sequence[Shown], frame: Frame) -> tuple[Cue, ...]:
    """Arrows along a frame's normal in the middle of the outermost piece at each end, towards the others."""
    found = []
    for way in (negated(frame.n), frame.n):
        end = max(shown, key=lambda s: dot(plus(s.piece.solid.middle, s.apart), way))
        spot = _pressed(_flat(end.piece.solid, frame, way))
        found.append(replace(_arrow(end, way, frame, spot), kind="push"))
    return tuple(found)


def spots(
    faces: Sequence[Area],
    solids: Sequence[Solid],
    frame: Frame,
    met: Sequence[Contact],
    between: Sequence[Solid],
    sound: Area,
) -> list[tuple[Point2, Point2]]:
    """Where clamps press on two solids, in (u, v) of the frame; `faces` are their outermost faces.

    Over the larger of the places that are glued, at both ends of a hollow one, and on what of it is `sound`: has wood
    all the way through the solids `between`, the two among them. Only where nothing of the two lies over one another
    does each foot stand by itself.
    """
    wood, over = faces[0].meet(faces[1]), solids[0].shadow(frame).meet(solids[1].shadow(frame))
    common = wood if wood.size > LEAST else over
    if common.size <= LEAST:
        return [(_pressed(faces[0]), _pressed(faces[1]))]
    whole = _through(met).meet(over)
    places = _places(whole, common) if whole.size > LEAST else [common]
    carries = _around(between, frame, met)
    chosen = []
    for place in places:
        walls = _on_sound(place, sound)
        chosen += _over(walls, wood, common, walls.plus(carries))
        chosen += [_pressed(part) for part in _beyond_tongue(place, walls)]
    return [(spot, spot) for spot in chosen]


def _around(between: Sequence[Solid], frame: Frame, met: Sequence[Contact]) -> Area:
    """Where there is wood on both sides of every joint, whether it is glued there or goes right through."""
    levels = {round(each.level, 2) for each in met}
    sides = [level + side for level in sorted(levels) for side in (-_SKIN, _SKIN)]
    wood = [blank_area().plus(*(solid.section(frame, side) for solid in between)) for side in sides]
    return reduce(Area.meet, wood) if wood else blank_area()


def _beyond_tongue(place: Area, walls: Area) -> tuple[Area, ...]:
    """The shoulders of a joint on the other side of its tongue, where all the wood that goes straight through is on
    one side: pressed there alone, the joint would close askew.
    """
    rest = [part for part in place.parts if part.meet(walls).empty]
    if len(place.parts) != 2 or len(rest) != 1 or rest[0].size < MOSTLY * walls.size:
        return ()
    return tuple(rest)


def _over(place: Area, wood: Area, common: Area, carries: Area) -> list[Point2]:
    """Where one place that is glued is pressed, and once more where that leaves wood of it too far away.

    What `carries` is the wood around it, such as a tongue between its shoulders.
    """
    halves, hollow = _halves(place, common)
    if not hollow:
        chosen = [_pressed(_standing(half, wood)) for half in halves]
        missed = _left(place, [circle(spot, FAR) for spot in chosen])
        return [*chosen, *(_pressed(_standing(part, wood)) for part in missed)]
    sides = [side for half in halves for side in _sides(half, place)]
    chosen = [_pressed(_standing(side, wood), place.centroid) for side in sides]
    left, low, right, high = place.bounds
    carried = min(FAR, max(THIN, ACROSS * dist((left, low), (right, high))))
    pressed = [_along(carries, spot, carried) for spot in chosen]
    far = _left(place, pressed)
    while far:
        part = max(far, key=lambda each: each.size)
        near = _along(place, part.nearest(part.centroid), NEARBY)
        spot = _pressed(_standing(near, wood))
        here, before = _along(carries, spot, carried), sum(each.size for each in far)
        far = _left(place, [*pressed, here])
        if sum(each.size for each in far) > before - SLIGHT * place.size:  # it stands where it does not help
            break
        chosen.append(spot)
        pressed.append(here)
    return chosen


def _along(place: Area, spot: Point2, far: float) -> Area:
    """What of a place is no farther than so many mm from a spot as its wood runs: nothing carries across an opening."""
    rough = place.coarser(ROUGH)
    found = rough.meet(circle(spot, STEP))
    for _ in range(round(far / STEP) - 1):
        before, found = found, rough.meet(found.offset(STEP).coarser(ROUGH))
        if found.size <= before.size:
            break
    return found


def _left(place: Area, pressed: Sequence[Area]) -> list[Area]:
    """What of a place is not pressed."""
    left = place.minus(*pressed)
    return [part for part in left.parts if part.size > SLIGHT * place.size]


def _sides(half: Area, place: Area) -> tuple[Area, ...]:
    """The two sides of a mouth in the end of a joint, both of which are pressed; the end where none divides it."""
    return (half,) if len(_large(place)) > 1 else _large(half)


def _large(place: Area) -> tuple[Area, ...]:
    """The parts of a place but for those that are crumbs of another."""
    largest = max(part.size for part in place.parts)
    return tuple(part for part in place.parts if part.size > SMALL * largest)


def _on_sound(place: Area, sound: Area) -> Area:
    """What of a place has wood all the way across; all of it where that is nowhere wide enough for a foot."""
    walls = place.meet(sound)
    return walls if not walls.offset(-BARE).empty else place


def _flat(solid: Solid, frame: Frame, way: Vec3) -> Area:
    """The outermost face of a solid that way, along the normal of the frame or back."""
    sign = 1.0 if dot(way, frame.n) > 0 else -1.0
    return solid.section(frame, sign * (solid.reach(way) - _SKIN))


def _arrow(end: Shown, way: Vec3, frame: Frame, spot: Point2) -> Cue:
    """An arrow from outside to where the wood of a piece begins over a spot; to its outermost level if it has none."""
    solid, sign = end.piece.solid, 1.0 if dot(way, frame.n) > 0 else -1.0
    above = frame.world(*spot, sign * (solid.reach(way) + 1.0))
    hits = solid.hits(above, plus(above, times(way, -solid.reach(way) - solid.reach(negated(way)) - 2.0)))
    tip = plus(above, times(way, -(hits[0] if hits else 1.0)))
    return Cue("clamp", (plus(tip, times(way, LENGTH * max(solid.extent))), tip), end.piece.name)


def _places(whole: Area, wood: Area) -> list[Area]:
    """The larger of the places that are glued; what lies close together is one."""
    places = [whole.meet(part) for part in whole.offset(_near(wood)).parts]
    largest = max(place.size for place in places)
    return sorted((p for p in places if p.size > SMALL * largest), key=lambda p: -p.size)[:MOST_CLAMPS]


def _near(wood: Area) -> float:
    left, low, right, high = wood.bounds
    return BUNDLED * dist((left, low), (right, high))


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


def _halves(place: Area, wood: Area) -> tuple[tuple[Area, ...], bool]:
    """A place that is glued; the two ends of one that is hollow, as one clamp would press it askew, or the halves of
    one that is broad, or long and narrow. And whether it is hollow.
    """
    near = _near(wood)
    closed = place if len(place.parts) == 1 else place.offset(near).offset(-near)
    left, low, right, high = place.bounds
    long, short = max(right - left, high - low), min(right - left, high - low)
    hollow = closed.size <= FULL * closed.hull.size
    if not hollow and place.size < BROAD and (long < LONG or long < NARROW * short):
        return (place,), False
    lies = right - left >= high - low
    ends = _ends(place, END if hollow else 0.5, lies)
    if hollow or short <= WIDE:
        return ends, hollow
    return tuple(row for end in ends for row in _ends(end, 0.5, not lies)), False


def _ends(place: Area, share: float, lies: bool) -> tuple[Area, Area]:
    """What of a place is within a share of its length from each end; left and right where it lies."""
    left, low, right, high = place.bounds
    wide, tall = share * (right - left), share * (high - low)
    if lies:
        return place.in_box(left, low, left + wide, high), place.in_box(right - wide, low, right, high)
    return place.in_box(left, low, right, low + tall), place.in_box(left, high - tall, right, high)


def _standing(half: Area, wood: Area) -> Area:
    """What of a place lies under the outermost faces, where feet stand level; all of it if that is little."""
    level = half.meet(wood)
    return level if level.size > MOSTLY * half.size else half


def _pressed(place: Area, middle: Point2 | None = None) -> Point2:
    """A place for the foot of a clamp with wood around it: of those with room the nearest to the middle.

    Of several parts with room, on the one farthest from the `middle` of the joint that is pressed at both its ends.
    """
    rooms = [(part, part.distance_to_edge(part.roomiest)) for part in place.parts]
    ample = [(part, room) for part, room in rooms if room > AMPLE * max(room for _, room in rooms)]
    room = max(room for _, room in ample)
    if middle is not None:
        place, room = max(ample, key=lambda each: (_out(each[0], place, middle), each[0].size))
    roomy = place.offset(-AMPLE * room)
    return place.roomiest if roomy.empty else _snug(place, roomy.nearest(place.centroid), room)


def _snug(place: Area, spot: Point2, room: float) -> Point2:
    """A spot, or the nearest one within the `room` of the place where there is more of that around it."""
    if room * AMPLE > FOOT:
        return spot
    near = (place.offset(-share * room).meet(circle(spot, room)) for share in SHARES)
    return next((each.nearest(spot) for each in near if not each.empty), spot)


def _out(part: Area, place: Area, middle: Point2) -> float:
    """How far out a part lies, the way that the place lies from the middle of its joint, mm."""
    own = place.centroid
    far = dist(own, middle)
    if far < 1.0:
        return 0.0
    u, v = ((a - b) / far for a, b in zip(own, middle, strict=True))
    return round((part.centroid[0] - middle[0]) * u + (part.centroid[1] - middle[1]) * v, 1)
