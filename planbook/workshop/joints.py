"""Joining pieces: bringing faces together, mating area, and the joined piece; knows no operation."""

from collections.abc import Sequence
from dataclasses import replace

from planbook.model import Supply
from planbook.solids import AXES, Frame, Solid, Vec3
from planbook.solids.frames import X, Y, Z, dot, negated, plus, times
from planbook.solids.solid import SKIN, joined
from planbook.text import Place
from planbook.workshop.members import joined_of
from planbook.workshop.papers import still_there
from planbook.workshop.pieces import moved, settled
from planbook.workshop.shop import Shop
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Member, Piece, Treated

CLAMP_MINUTES = 60.0
"""Clamp time where the handbook has no row for the glue (common practice for PVA wood glue)."""
SNUG = 1e-6
"""How far (mm) joined faces overlap, so that rounding never leaves a crack between them: a millionth of a mm."""
HAIR = 1e-5
"""How far (mm) behind a corner the search for what it meets begins."""
SETTLE = 1e-7
"""How far two faces may be from touching and still count as brought together, mm."""


def brought_together(pieces: Sequence[Piece], axis: str, place: Place, shop: Shop) -> tuple[list[Piece], list[float]]:
    """Pieces pushed along an axis until they touch, the first staying. Raises Snag where they cannot meet."""
    way = AXES[axis]
    placed = [pieces[0]]
    travelled = [0.0]
    for piece in pieces[1:]:
        middle = sum(dot(p.solid.middle, way) * p.solid.volume for p in placed) / sum(p.solid.volume for p in placed)
        towards = way if dot(piece.solid.middle, way) < middle else negated(way)
        ways = [far for p in placed if (far := travel(piece.solid, p.solid, towards)) is not None]
        if not ways:
            raise snag("faces-do-not-meet", place, shop.at.step, piece=piece.name, axis=axis)
        placed.append(moved(piece, times(towards, min(ways) + SNUG)))
        travelled.append(min(ways))
    return placed, travelled


def travel(mover: Solid, target: Solid, towards: Vec3) -> float | None:
    """How far a solid can move along a unit vector until it touches another, mm; None if it never does."""
    gap = -(mover.reach(towards) + target.reach(negated(towards)))
    if gap >= -SETTLE:
        back = _across(towards)
        if mover.section(back, mover.reach(towards) - SKIN).touches(
            target.section(back, -target.reach(negated(towards)) + SKIN)
        ):
            return gap
    return _travel_by_rays(mover, target, towards)


def _across(normal: Vec3) -> Frame:
    """A frame across an axis, so that both solids are seen from the same side."""
    u = Y if abs(normal[0]) > 0.5 else X
    v = Y if abs(normal[2]) > 0.5 else Z
    # Right-handed or not does not matter here: both sections are taken in the same frame.
    return Frame(u, v, normal)


def _travel_by_rays(mover: Solid, target: Solid, towards: Vec3) -> float | None:
    """The least distance from any corner of one to the surface of the other along the way."""
    reach = (
        4 * sum(mover.extent)
        + 4 * sum(target.extent)
        + 2 * sum(abs(a - b) for a, b in zip(mover.middle, target.middle, strict=True))
    )
    found: list[float] = []
    for solid, other, way in ((mover, target, towards), (target, mover, negated(towards))):
        for corner in solid.mesh[0]:
            # From a hair behind the corner, so that a face that it touches already is met as well.
            start = plus((float(corner[0]), float(corner[1]), float(corner[2])), times(way, -HAIR))
            walls = other.walls(start, plus(start, times(way, reach)))
            found.extend(max(0.0, far - HAIR) for far, normal in walls[:1] if dot(normal, way) < -HAIR)
    return min(found) if found else None


def join(name: str, pieces: Sequence[Piece], place: Place, shop: Shop, wet: float) -> tuple[Piece, float]:
    """One piece of several that touch, and the area (mm2) that mates. Raises Snag for pieces apart or overlapping."""
    whole = joined([p.solid for p in pieces]).tidy()
    volume = sum(p.solid.volume for p in pieces)
    if abs(volume - whole.volume) > 1e-6 * volume:
        _overlapping(pieces, place, shop)
    if len(whole.parts) > 1:
        raise snag(
            "pieces-do-not-touch",
            place,
            shop.at.step,
            pieces=tuple(p.name for p in pieces),
            parts=len(whole.parts),
        )
    area = (sum(p.solid.surface for p in pieces) - whole.surface) / 2
    members = joined_of(whole, tuple(m for p in pieces for m in _members(p, name, pieces)))
    stuck = tuple(s for p in pieces for s in p.stuck if still_there(s, whole))
    treated = tuple(t for p in pieces for t in p.treated)
    sources = tuple(p.name for p in pieces)
    glued = Treated("joint", "glued", shop.at, area)
    lined = tuple(each for p in pieces for each in p.lined)
    made = Piece(name, whole, members, shop.at, sources, (*treated, glued), stuck, wet, lined)
    return made, area


def _members(piece: Piece, name: str, pieces: Sequence[Piece]) -> tuple[Member, ...]:
    """The members of a piece to be joined, marked as added where another one of the pieces keeps its name."""
    found = settled(piece)
    if name == piece.name or all(name != other.name for other in pieces):
        return found
    return tuple(replace(member, added=piece.name) for member in found)


def _overlapping(pieces: Sequence[Piece], place: Place, shop: Shop) -> None:
    for i, a in enumerate(pieces):
        for b in pieces[i + 1 :]:
            shared = a.solid.meet(b.solid).volume
            if shared > 0.1:
                raise snag("pieces-overlap", place, shop.at.step, first=a.name, second=b.name, volume=shared)


def clamp_minutes(supply: Supply, shop: Shop) -> float:
    """How long the clamps stay on, from the handbook's row of the glue."""
    row = shop.design.handbook.glue(supply.product)
    return float(row.clamp_minutes) if row and row.clamp_minutes else CLAMP_MINUTES
