"""What a drawing must tell to make a piece: where its faces and corners lie, its holes and radii; draws nothing."""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from planbook.drawing.curves import Arc, Curve, Part, Straight, parts_of
from planbook.drawing.facet_lines import profiles
from planbook.drawing.rounded import (
    AXES,
    FINE,
    Rounded,
    each_once,
    is_chord,
    is_hollow,
    rounds_a_corner,
    without_leavings,
)
from planbook.drawing.surfaces import Floats, Ints, groups
from planbook.solids import Solid
from planbook.solids.plane import Point2

APART = 0.15
"""Places closer than this (mm) are dimensioned as one; nobody can mark them apart."""
SQUARE = 0.99999
"""Cosine to an axis from which a face is square to it."""
CONE = 0.02
"""How much the slant of the facets of a cone may differ."""
SUNK = 3.2
"""A countersink is at most so many times as wide as its hole."""
LEAST = 1.0
"""Faces smaller than this (mm2) are not worth a dimension."""
BEYOND = 0.05
"""So far behind the end of a hole, mm, wood is looked for."""
RIM, RIM_POINTS = 0.9, 8
"""The share of the radius of a hole, and the number of places around, where it is looked for."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A piece in mm from its lower corner: its size, the places of its faces and corners along each axis, rounds.

    `freeform` is true where surfaces are curved in another way, which no dimension tells.
    """

    size: tuple[float, float, float]
    places: tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]
    rounds: tuple[Rounded, ...]
    freeform: bool


@dataclass
class _Found:
    """What is gathered while the surfaces are looked at."""

    size: tuple[float, float, float]
    places: tuple[list[float], list[float], list[float]]
    rounds: list[Rounded] = field(default_factory=list)
    flats: list[tuple[int, Floats]] = field(default_factory=list)
    oblique: list[Floats] = field(default_factory=list)
    slants: list[tuple[int, Straight]] = field(default_factory=list)
    freeform: bool = False


@lru_cache(maxsize=256)
def measured(solid: Solid) -> Measured:
    """The dimensions of a solid; all empty for one without triangles."""
    vertices, triangles = solid.mesh
    if not len(triangles):
        return Measured((0.0, 0.0, 0.0), ((), (), ()), (), False)
    points = vertices - np.asarray(solid.bounds[0])
    found = _Found(solid.extent, ([0.0, solid.extent[0]], [0.0, solid.extent[1]], [0.0, solid.extent[2]]))
    surface = groups(solid)
    for tag in np.unique(surface.tags[surface.tags >= 0]).tolist():
        mine = surface.tags == tag
        _surface(surface.normals[mine], points[triangles[mine]], found)
    _sink(found)
    _slanting(found)
    _flat(found)
    found.rounds[:] = [_opened(each, solid) for each in each_once(found.rounds)]
    sharp = _away_from_holes(_corners(triangles, surface.tags, points), found.rounds)
    for axis in AXES:
        found.places[axis].extend(sharp[:, axis].tolist())
    x, y, z = (_distinct(each) for each in found.places)
    return Measured(found.size, (x, y, z), tuple(sorted(found.rounds, key=_order)), found.freeform)


def _opened(found: Rounded, solid: Solid) -> Rounded:
    """A hole that has air beyond both of its ends goes through."""
    if found.through or not (found.whole and found.hollow):
        return found
    low, high = found.along
    return replace(found, through=_in_air(found, low - BEYOND, -1, solid) and _in_air(found, high + BEYOND, 1, solid))


def _in_air(found: Rounded, level: float, way: int, solid: Solid) -> bool:
    """Whether no wood lies all around just within the rim of a hole at a level of its axis; it is felt outwards."""
    across = [axis for axis in AXES if axis != found.axis]
    for turn in range(RIM_POINTS):
        angle = 2 * math.pi * (turn + 0.5) / RIM_POINTS
        spot = list(solid.bounds[0])
        spot[found.axis] += level
        for axis, middle, far in zip(across, found.middle, (math.cos(angle), math.sin(angle)), strict=True):
            spot[axis] += middle + RIM * found.radius * far
        outside = list(spot)
        outside[found.axis] += way * (solid.extent[found.axis] + 1.0)
        if len(solid.hits((spot[0], spot[1], spot[2]), (outside[0], outside[1], outside[2]))) % 2:
            return False
    return True


def _order(found: Rounded) -> tuple[float, ...]:
    return (found.axis, round(found.radius, 3), *(round(c, 3) for c in found.middle))


def _surface(normals: Floats, corners: Floats, found: _Found) -> None:
    """Adds what one smooth surface says."""
    if float((normals @ normals[0]).min()) > SQUARE:
        area = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1).sum() / 2
        axis = int(np.argmax(np.abs(normals[0])))
        if abs(normals[0][axis]) <= SQUARE:
            found.oblique.append(corners)
        elif area >= LEAST:
            found.flats.append((axis, corners))
        return
    upright = next((axis for axis in AXES if float(np.abs(normals[:, axis]).max()) < 1e-3), None)
    lines = profiles(normals, corners, upright) if upright is not None else []
    if upright is None or not lines:
        found.oblique.append(corners)
        found.freeform |= _curves(normals)
        return
    along = (float(corners[:, :, upright].min()), float(corners[:, :, upright].max()))
    for line, outward, closed in lines:
        _parts_ofprofiles(parts_of(line, closed), outward, closed, upright, along, found)


def _curves(normals: Floats) -> bool:
    """Whether a surface is curved in another way than a blunt cone about an axis."""
    return all(float(np.ptp(np.abs(normals[:, axis]))) > CONE for axis in AXES)


def _sink(found: _Found) -> None:
    """Slanting facets around the mouth of a hole are its countersink."""
    for number, each in enumerate(found.rounds):
        if not (each.whole and each.hollow):
            continue
        across = [axis for axis in AXES if axis != each.axis]
        widest = 0.0
        for corners in found.oblique:
            far = np.hypot(*(corners.reshape(-1, 3)[:, across] - each.middle).T)
            if len(far) and float(far.max()) < SUNK * each.radius and float(far.min()) > 0.7 * each.radius:
                widest = max(widest, float(far.max()))
        found.rounds[number] = replace(each, sunk=2 * widest)


def _away_from_holes(corners: Floats, rounds: Sequence[Rounded]) -> Floats:
    """Corners that are not on the rim of a hole or of its countersink, which the hole's own middle tells."""
    for each in rounds:
        if each.whole and len(corners):
            across = [axis for axis in AXES if axis != each.axis]
            far = np.hypot(*(corners[:, across] - each.middle).T)
            corners = corners[far > max(each.radius, each.sunk / 2) + APART]
    return corners


def _parts_ofprofiles(
    parts: Sequence[Part],
    outward: Sequence[tuple[Point2, Point2]],
    closed: bool,
    axis: int,
    along: tuple[float, float],
    found: _Found,
) -> None:
    parts = without_leavings(parts)
    arcs = [part for part in parts if isinstance(part, Arc)]
    whole = closed and len(arcs) == len(parts) and math.dist(arcs[0].middle, arcs[-1].middle) < FINE
    through = along[0] < FINE and along[1] > found.size[axis] - FINE
    across = [a for a in AXES if a != axis]
    for number, part in enumerate(parts):
        if isinstance(part, Curve):
            found.freeform = True
        elif isinstance(part, Straight):
            _straight(part, axis, across, found)
        elif not whole or number == 0:
            middle, hollow = part.middle, is_hollow(part, outward)
            corner = not whole and rounds_a_corner(parts, number, closed)
            found.rounds.append(Rounded(axis, middle, part.radius, along, hollow, whole, through, corner, part.halfway))
            if whole and not hollow and not through:
                found.places[axis].extend(along)
            fills = whole and all(found.size[a] - 2 * part.radius < APART for a in across)
            for a, place in zip(across, middle, strict=True):
                if not corner and not fills and -FINE < place < found.size[a] + FINE:
                    found.places[a].append(place)


def _straight(part: Straight, axis: int, across: Sequence[int], found: _Found) -> None:
    """A flat side that runs smoothly into an arc: its place; what is not square waits until all arcs are known."""
    square = [abs(part.start[i] - part.end[i]) < FINE for i in (0, 1)]
    for i in (0, 1):
        if square[i]:
            found.places[across[i]].append(part.start[i])
    if not any(square):
        found.slants.append((axis, part))


def _flat(found: _Found) -> None:
    """The places of flat faces, but not of those within a hole: its note tells its depth, and one figure is enough."""
    for axis, corners in found.flats:
        if not any(_is_within(corners, each) for each in found.rounds if each.axis == axis):
            found.places[axis].append(float(corners[:, :, axis].mean()))


def _is_within(corners: Floats, hole: Rounded) -> bool:
    """Whether a face is the floor of a hole, or the ledge of a wider one."""
    across = [axis for axis in AXES if axis != hole.axis]
    level = float(corners[:, :, hole.axis].mean())
    far = np.hypot(*(corners.reshape(-1, 3)[:, across] - hole.middle).T)
    ends = min(abs(level - end) for end in hole.along) < FINE
    return hole.hollow and hole.whole and ends and float(far.max()) < hole.radius + FINE


def _slanting(found: _Found) -> None:
    """The places of the ends of slanting sides, but not of chords of an arc, which its middle and radius tell."""
    for axis, part in found.slants:
        if not any(each.axis == axis and is_chord(part, each) for each in found.rounds):
            for i, a in enumerate(each for each in AXES if each != axis):
                found.places[a].extend((part.start[i], part.end[i]))


def _corners(triangles: Ints, tags: Ints, points: Floats) -> Floats:
    """Vertices at which three or more smooth surfaces meet."""
    at: dict[int, set[int]] = defaultdict(set)
    for corners, tag in zip(triangles.tolist(), tags.tolist(), strict=True):
        if tag >= 0:
            for corner in corners:
                at[corner].add(tag)
    picked = [vertex for vertex, meeting in at.items() if len(meeting) > 2]
    found: Floats = points[picked]
    return found


def _distinct(places: Iterable[float]) -> tuple[float, ...]:
    """Places in order, those that are nearly one made one."""
    return tuple(_merged(sorted(places)))


def _merged(places: Sequence[float]) -> Iterator[float]:
    last = None
    for place in places:
        if last is None or place - last > APART:
            yield round(place, 6)
            last = place
