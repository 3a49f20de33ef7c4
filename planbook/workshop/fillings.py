"""How a strip lies in the cut that it fills: turned any way in its plane, and cut to size; glues nothing."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from planbook.solids import Area, Frame, Solid, Vec3
from planbook.solids.frames import X, Y, Z, dot, negated, plus, times
from planbook.solids.plane import box
from planbook.workshop.cutting import span
from planbook.workshop.grain import HALF_WAY, grain_of
from planbook.workshop.pieces import member_solids
from planbook.workshop.timeline import Member, Piece

CLOSE = 1e-3
"""A strip that is shorter or narrower by no more than this (mm) is large enough: rounding."""
BENT = 1.6
"""A cut that reaches farther to the side than so many of its widths is bent."""
SKIN = 0.02
"""A strip is looked at so far within its faces (mm), and fills a cut so far past them, so that no skin stays bare."""
BARE = 0.5
"""So much of a strip's outline may be missing, mm2."""
SHARES = (0.5, 0.0, 1.0, 0.25, 0.75)
"""Where in a strip that is too large is looked, as shares of the room there."""


@dataclass(frozen=True, slots=True)
class Cavity:
    """What a strip must fill: `there` with u along the depth of the cut, v along its way in, n across; mm.

    `wide` is its way in as a strip lies flat that is bent into it, `across` how far it reaches to the side.
    """

    there: Frame
    deep: float
    wide: float
    chord: float
    across: float


@dataclass(frozen=True, slots=True)
class Laid:
    """A strip as it lies in a cut: what it is made of there, and the way that its grain runs."""

    members: tuple[Member, ...]
    grain: Vec3


def cavity(filled: Solid, along: Vec3, frame: Frame, thick: float) -> Cavity:
    """What a body takes that fills a cut `thick` wide through a face, whose line goes on a way in the face."""
    sides = (frame.n, along, _cross(frame.n, along))
    ends = [(-filled.reach(negated(way)), filled.reach(way)) for way in sides]
    origin = (0.0, 0.0, 0.0)
    for way, (low, high) in zip(sides, ends, strict=True):
        origin = plus(origin, times(way, (low + high) / 2))
    deep, chord, across = (high - low for low, high in ends)
    # The outline of a narrow band is as long as both of its sides and both of its ends.
    flat = filled.section(frame, sum(span(filled, frame)) / 2).perimeter / 2 - thick
    return Cavity(Frame(*sides, origin), deep, max(chord, flat) if across > BENT * thick else chord, chord, across)


def grain_told(laid: Laid, cut: Cavity) -> str:
    """Which way the grain runs in a strip, as it is cut out."""
    long, short = (cut.there.u, cut.there.v) if cut.deep >= cut.wide else (cut.there.v, cut.there.u)
    if abs(dot(laid.grain, long)) > HALF_WAY:
        return "along its length"
    return "across its length" if abs(dot(laid.grain, short)) > HALF_WAY else "through its thickness"


def flat_sides(strip: Solid) -> tuple[float, float]:
    """The length and the width of a strip, mm."""
    _, width, length = sorted(strip.extent)
    return length, width


def needed(cut: Cavity) -> tuple[float, float]:
    """The length and the width of what is cut out of a strip for a cut, mm: the longer side first."""
    long, short = sorted((cut.deep, cut.wide), reverse=True)
    return long, short


def laid_in(strip: Piece, cut: Cavity, around: Vec3) -> Laid | None:
    """A strip laid in a cut; None where no piece of its outline is large enough.

    Its grain runs as that `around` the cut if it can; of what is left, the strip is turned and shifted the least, so
    that what was sawn off beside a cut lies in it as it lay there.
    """
    thin = min(range(3), key=lambda k: strip.solid.extent[k])
    a, b = (axis for k, axis in enumerate((X, Y, Z)) if k != thin)
    here, grain = Frame(a, b, _cross(a, b)), grain_of(strip)
    sheet = _sheet(strip.solid, here)

    def rank(there: Frame) -> tuple[float, float]:
        turned = dot(here.u, there.u) + dot(here.v, there.v) + dot(here.n, there.n)
        return (-round(abs(dot(_carried(grain, here, there), around)), 3), -round(turned, 6))

    for there in sorted((_there(cut, *way) for way in _WAYS), key=rank):
        size = (cut.deep, cut.wide) if _goes_deep(there, cut) else (cut.wide, cut.deep)
        spot = next((at for at in _spots(sheet, here, there, size) if _covers(sheet, at, size)), None)
        if spot is not None:
            return _laid(strip, here, there, (spot[0] + size[0] / 2, spot[1] + size[1] / 2), cut)
    return None


_WAYS = tuple(product((1, -1), (1, -1), (False, True)))
"""On which sides the two sides of a strip can lie in a cut, and whether they change places."""


def _goes_deep(there: Frame, cut: Cavity) -> bool:
    """Whether the first side of a strip lies along the depth of a cut."""
    return abs(dot(there.u, cut.there.u)) > HALF_WAY


def _there(cut: Cavity, one: int, two: int, swap: bool) -> Frame:
    """A frame in the middle of a cut, on which that of a strip is laid."""
    u, v = times(cut.there.u, one), times(cut.there.v, two)
    u, v = (v, u) if swap else (u, v)
    return Frame(u, v, _cross(u, v), cut.there.origin)


def _sheet(strip: Solid, here: Frame) -> Area:
    """What both faces of a strip have in common, in the plane of the strip."""
    low, high = span(strip, here)
    return strip.section(here, low + SKIN).meet(strip.section(here, high - SKIN))


def _spots(sheet: Area, here: Frame, there: Frame, size: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """Lower left corners of pieces of a size in a strip, the first where it need not be shifted along its own axes."""
    if sheet.empty:
        return
    left, bottom, right, top = sheet.bounds
    ways = []
    for own, way, low, high, need in ((here.u, there.u, left, right, size[0]), (here.v, there.v, bottom, top, size[1])):
        room = high - low - need
        if room < -CLOSE:
            return
        shares = [low + max(room, 0.0) * share for share in SHARES]
        still = dot(there.origin, way) - need / 2
        ways.append([min(max(still, low), low + max(room, 0.0)), *shares] if dot(own, way) > 1 - CLOSE else shares)
    yield from product(*ways)


def _covers(sheet: Area, at: tuple[float, float], size: tuple[float, float]) -> bool:
    return box(*at, *size).minus(sheet).size < BARE


def _laid(strip: Piece, here: Frame, there: Frame, spot: tuple[float, float], cut: Cavity) -> Laid:
    """The woods of a strip where they lie in a cut, a spot of its plane in the middle of the cut."""
    low, high = span(strip.solid, here)
    start = here.at(here.world(*spot, (low + high) / 2))
    bend = cut.chord / cut.wide
    stretch = (1.0, bend) if _goes_deep(there, cut) else (bend, 1.0)
    thick = (cut.across + 2 * SKIN) / (high - low)
    members = []
    for member, solid in member_solids(strip):
        laid = solid.laid(start, there, (*stretch, thick))
        grain = _carried(member.grain, here, there)
        members.append(replace(member, grain=grain, region=laid, box=laid.bounds))
    return Laid(tuple(members), _carried(grain_of(strip), here, there))


def _carried(way: Vec3, here: Frame, there: Frame) -> Vec3:
    """A direction that turns with a frame."""
    u, v, n = dot(way, here.u), dot(way, here.v), dot(way, here.n)
    x, y, z = (round(there.u[k] * u + there.v[k] * v + there.n[k] * n, 12) or 0.0 for k in range(3))
    return (x, y, z)


def _cross(a: Vec3, b: Vec3) -> Vec3:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
