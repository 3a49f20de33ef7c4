"""Making pieces out of pieces: woods, treated faces, linings and stencils carried over; not the cutting itself."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import product
from math import cos, radians, sin

from planbook.solids import AXES, FACE_FRAMES, Area, Frame, Solid, Vec3
from planbook.solids.frames import dot, negated, plus
from planbook.solids.solid import block, joined
from planbook.text import Place
from planbook.workshop.members import CRUMB, alone, cut_out, just_joined, volumes
from planbook.workshop.papers import still_there, turned_paper
from planbook.workshop.shop import Shop
from planbook.workshop.snags import Snag, snag
from planbook.workshop.timeline import Lined, Member, Piece, Stuck, Treated

CLEAR = 0.01
"""What is taken out of a piece again is taken out so much wider (mm), so that no skin of it stays."""
SEAM = 1e-6
"""Woods of one piece are joined again with so much overlap (mm), so that no seam stays between them."""
Box = tuple[Vec3, Vec3]


def member_solids(piece: Piece) -> tuple[tuple[Member, Solid], ...]:
    """The woods of a piece with the solid that each takes in it; woods that were cut away are left out."""
    return _member_solids(piece.solid, piece.members)


@lru_cache(maxsize=4096)
def _member_solids(whole: Solid, members: tuple[Member, ...]) -> tuple[tuple[Member, Solid], ...]:
    if len(members) == 1:
        return ((members[0], whole),)
    cut = ((member, cut_out(whole, member)) for member in members if _boxes_meet(member.box, whole.bounds))
    return tuple((member, solid) for member, solid in cut if solid.volume > CRUMB)


def woods(piece: Piece) -> tuple[str, ...]:
    """The woods of a piece, most first."""
    found: dict[str, float] = {}
    for member, volume in volumes(piece):
        found[member.wood] = found.get(member.wood, 0.0) + volume
    return tuple(sorted(found, key=lambda wood: (-found[wood], wood)))


def as_cut(piece: Piece, others: Collection[str]) -> Piece:
    """A piece without those of the others that were glued into it later, such as a knob: as it is cut, and measured."""
    added: dict[str, list[Solid]] = {}
    if any(member.added in others for member in piece.members):
        for member, solid in member_solids(piece):
            if member.added in others:
                added.setdefault(member.added, []).append(solid)
    if not added:
        return piece
    own = piece.solid.minus(*(joined(s.grown(SEAM) for s in solids).tidy().grown(CLEAR) for solids in added.values()))
    return replace(piece, solid=own, members=tuple(m for m in piece.members if m.added not in added))


def _boxes_meet(a: Box, b: Box) -> bool:
    (alo, ahi), (blo, bhi) = a, b
    return all(al < bh - 1e-6 and bl < ah - 1e-6 for al, ah, bl, bh in zip(alo, ahi, blo, bhi, strict=True))


def settled(piece: Piece) -> tuple[Member, ...]:
    """The members with their regions cut down to the wood itself, so that the piece can be joined to another.

    The cutting is left to the solids until somebody looks: most of it is never needed.
    """
    if len(piece.members) == 1:
        return (replace(piece.members[0], region=piece.solid, box=piece.solid.bounds),)
    if just_joined(piece):
        return piece.members
    whole = piece.solid.bounds
    mine = [member for member in piece.members if _boxes_meet(member.box, whole)]
    return tuple(
        replace(member, region=_cut_down(piece.solid, member, by_box), box=_shared(member.box, whole))
        for member, by_box in zip(mine, alone(mine), strict=True)
    )


def _cut_down(whole: Solid, member: Member, by_box: bool) -> Solid:
    """The wood of a member in a solid; where its box tells it, without the solids that its region is made of."""
    if not by_box:
        return whole.meet(member.region)
    low, high = whole.bounds
    lo, hi = _shared(member.box, (plus(low, (-1.0, -1.0, -1.0)), plus(high, (1.0, 1.0, 1.0))))
    return whole.meet(block(lo, hi))


def _shared(a: Box, b: Box) -> Box:
    lo, hi = (tuple(pick(p, q) for p, q in zip(a[i], b[i], strict=True)) for i, pick in ((0, max), (1, min)))
    return (lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2])


def part_of(piece: Piece, name: str, solid: Solid, shop: Shop, treated: Iterable[Treated] = ()) -> Piece:
    """A new piece cut from another."""
    members = tuple(m for m in piece.members if _boxes_meet(m.box, solid.bounds)) or piece.members
    kept = tuple(s for s in piece.stuck if still_there(s, solid))
    done = tuple(t for t in piece.treated if _face_left(piece.solid, solid, t.face))
    lined = tuple(each for each in piece.lined if _boxes_meet(each.layer.bounds, solid.bounds))
    return Piece(name, solid, members, shop.at, (piece.name,), (*done, *treated), kept, piece.wet, lined)


def _face_left(before: Solid, after: Solid, face: str) -> bool:
    """Whether a piece still reaches as far on a side as the piece it came from."""
    frame = FACE_FRAMES.get(face)
    return frame is None or after.reach(frame.n) > before.reach(frame.n) - 0.05


def reshaped(piece: Piece, solid: Solid, shop: Shop, treated: Iterable[Treated] = ()) -> Piece:
    """The same piece with less (or more) wood."""
    made = part_of(piece, piece.name, solid, shop, treated)
    return replace(made, sources=piece.sources)


def moved(piece: Piece, by: Vec3) -> Piece:
    """The piece shifted, with its woods, linings and stencils."""
    if not any(by):
        return piece
    members = tuple(
        replace(m, region=m.region.moved(by), box=(_sum(m.box[0], by), _sum(m.box[1], by))) for m in piece.members
    )
    stuck = tuple(replace(s, frame=s.frame.at(_sum(s.frame.origin, by))) for s in piece.stuck)
    lined = tuple(replace(each, layer=each.layer.moved(by)) for each in piece.lined)
    return replace(piece, solid=piece.solid.moved(by), members=members, stuck=stuck, lined=lined)


def turned(piece: Piece, axis: Vec3, degrees: float, about: Vec3) -> Piece:
    """The piece turned about an axis, with its woods, linings and stencils."""
    solid = piece.solid.turned(axis, degrees, about)
    members = tuple(
        replace(
            m,
            region=m.region.turned(axis, degrees, about),
            grain=turned_vector(m.grain, axis, degrees),
            box=_turned_box(m.box, axis, degrees, about, solid.bounds),
        )
        for m in piece.members
    )
    lined = tuple(
        Lined(each.layer.turned(axis, degrees, about), turned_vector(each.way, axis, degrees)) for each in piece.lined
    )
    stuck = tuple(turned_paper(each, _turned_frame(each.frame, axis, degrees, about)) for each in piece.stuck)
    return replace(piece, solid=solid, members=members, stuck=stuck, lined=lined)


def _turned_box(box: Box, axis: Vec3, degrees: float, about: Vec3, wood: Box) -> Box:
    """The box around a box that was turned: boards that lie side by side along the axis still do in theirs.

    Turned by quarters it stays the box of the whole board, with which the parts of a panel swell together. Turned
    aslant it would reach over its neighbours: it ends where the wood does.
    """
    corners = ((x, y, z) for x, y, z in product(*zip(*box, strict=True)))
    us, vs, ws = zip(*(turned_vector(plus(p, negated(about)), axis, degrees) for p in corners), strict=True)
    around = plus(about, (min(us), min(vs), min(ws))), plus(about, (max(us), max(vs), max(ws)))
    return around if degrees % 90 == 0 and axis in AXES.values() else _shared(around, wood)


def _turned_frame(frame: Frame, axis: Vec3, degrees: float, about: Vec3) -> Frame:
    u, v, n = (turned_vector(way, axis, degrees) for way in (frame.u, frame.v, frame.n))
    off = turned_vector(plus(frame.origin, negated(about)), axis, degrees)
    return Frame(u, v, n, plus(about, off))


def turned_vector(vector: Vec3, axis: Vec3, degrees: float) -> Vec3:
    """A direction turned left round about an axis; whole quarters come out exact."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    along = dot(vector, axis) * (1 - c)
    cross = (
        axis[1] * vector[2] - axis[2] * vector[1],
        axis[2] * vector[0] - axis[0] * vector[2],
        axis[0] * vector[1] - axis[1] * vector[0],
    )
    x, y, z = (round(vector[i] * c + cross[i] * s + axis[i] * along, 12) for i in range(3))
    return (x, y, z)


def _sum(a: Vec3, b: Vec3) -> Vec3:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def face_frame(piece: Piece, face: str, origin: str = "lower left") -> Frame:
    """The frame of a face of a piece, its origin where the stencils of that origin are laid on."""
    frame = FACE_FRAMES[face]
    n = piece.solid.reach(frame.n)
    if origin == "world":
        return frame.at(frame.world(0.0, 0.0, n))
    left, bottom, right, top = piece.solid.shadow(frame).bounds
    u = {"lower left": left, "lower right": right}.get(origin, (left + right) / 2)
    v = (bottom + top) / 2 if origin == "middle" else bottom
    return frame.at(frame.world(u, v, n))


def name_parts(
    parts: Sequence[Solid],
    frame: Frame,
    makes: Mapping[str, str],
    inside: Area | None,
    stuck: Stuck | None,
    place: Place,
    shop: Shop,
) -> dict[str, list[Solid]]:
    """The parts that fell apart, by the new names. Raises Snag for a part without a name or a name without a part."""
    named: dict[str, list[Solid]] = {name: [] for name in makes}
    rest = next((name for name, region in makes.items() if region == "rest"), None)
    unnamed = []
    for part in parts:
        shadow = part.section(frame, part.reach(frame.n) - dot(frame.origin, frame.n) - 0.01)
        hits = [name for name, region in makes.items() if _in_region(shadow, region, inside, stuck)]
        if hits:
            for name in hits:
                named[name].append(part)
        elif rest is not None:
            named[rest].append(part)
        else:
            unnamed.append((part, shadow))
    _complain(named, unnamed, makes, place, shop)
    return named


def _in_region(shadow: Area, region: str, inside: Area | None, stuck: Stuck | None) -> bool:
    if region in ("inside", "outside") and inside is not None and not shadow.empty:
        share = shadow.meet(inside).size / shadow.size
        return (share > 0.5) == (region == "inside")
    point = stuck.regions.get(region) if stuck else None
    return point is not None and shadow.holds(point)


def _complain(
    named: Mapping[str, list[Solid]],
    unnamed: list[tuple[Solid, Area]],
    makes: Mapping[str, str],
    place: Place,
    shop: Shop,
) -> None:
    troubles = []
    for part, _ in unnamed:
        facts = {"volume": part.volume, "size": part.extent, "where": part.middle, "named": tuple(makes)}
        troubles.append(snag("part-without-name", place, shop.at.step, **facts).troubles[0])
    for name, region in makes.items():
        if not named[name]:
            facts = {"piece": name, "region": region, "parts": sum(map(len, named.values())) + len(unnamed)}
            troubles.append(snag("region-not-loose", place, shop.at.step, **facts).troubles[0])
        elif len(named[name]) > 1 and region not in ("rest", "outside"):
            facts = {"piece": name, "region": region, "count": len(named[name])}
            troubles.append(snag("part-in-two", place, shop.at.step, **facts).troubles[0])
    owners: dict[int, list[str]] = {}
    for name, parts in named.items():
        for part in parts:
            owners.setdefault(id(part), []).append(name)
    for names in owners.values():
        if len(names) > 1:
            facts = {"pieces": tuple(names)}
            troubles.append(snag("parts-still-joined", place, shop.at.step, **facts).troubles[0])
    if troubles:
        raise Snag(*troubles)


def without_crumbs(solid: Solid) -> tuple[list[Solid], list[Solid]]:
    """The parts that fall apart, and those too small to be more than dust."""
    return [p for p in solid.parts if p.volume > CRUMB], [p for p in solid.parts if p.volume <= CRUMB]
