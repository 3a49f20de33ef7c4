"""Signs that cover an area: ticks where wood is sanded, rings where glue goes; both only where they are in sight."""

import math
from collections.abc import Sequence

import numpy as np

from planbook.drawing.coarse import coarse
from planbook.drawing.ink import GLUE, PAPER, WORK, Ink, accent
from planbook.drawing.inlaid import inlaid
from planbook.drawing.look import NEAR, Look, flat, flat_all
from planbook.drawing.marks import Mark, Pen, Point, Ring, Stroke
from planbook.drawing.middle_line import longest, middles
from planbook.drawing.paper import Paper
from planbook.drawing.surfaces import LIKE, groups
from planbook.drawing.views import direction_of
from planbook.solids import FACE_FRAMES, Solid, Vec3
from planbook.solids.figures import points_of
from planbook.solids.frames import dot, negated, plus, times
from planbook.solids.hatch import clip_lines, inside, taken
from planbook.solids.plane import Area
from planbook.solids.shares import joined_triangles, overlap
from planbook.solids.visible import Polygon2, View
from planbook.workshop.timeline import Cue, Shown

TICK = 2.0
"""Length of a tick, mm on paper."""
ROWS = (3.0, 6.4)
"""Distance of the rows of ticks, and of the ticks in a row, mm on paper."""
SMALL_TICK, CLOSE_ROWS, CLOSE_AIR = 1.3, (1.2, 2.8), 0.45
"""The same of smaller ticks on an area that has room for few, and how far they keep off its edges, mm on paper."""
DOTS = (2.2, 2.6)
"""Distance of the rows of dots, and of the dots in a row, mm on paper."""
CLOSE = (1.1, 1.2)
"""The same on the side of something round, which is small."""
DOT, CLEAR = 0.8, 0.55
"""Width of a ring where glue goes, and how far its middle keeps from an edge each way, mm on paper."""
TIGHT = 0.43
"""The same on the side of something round."""
AROUND = ((0.0, 0.0), *((math.cos(k * math.pi / 4), math.sin(k * math.pi / 4)) for k in range(8)))
CROWDED = 1.2
"""Rings of two joints nearer to one another than this, mm on paper, would run together."""
FURTHER = 1.9
"""Rings along the middle of a narrow area stand so far from others, mm on paper."""
FEW = 3
"""Fewer ticks of a pattern than this in one area look like scratches."""
AIR = 0.6
"""Between a tick and the edge of its face, mm on paper."""
FILLS = 0.7
"""A tick fills no more than this share of the length of a small area."""
ALONG = 0.5
"""What looks along an axis with this cosine or more is an end, not a side."""
MOST = 160
"""Most ticks or dots on one face; on a larger one they stand further apart."""


def sanded(
    cue: Cue, points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink
) -> tuple[Mark, ...]:
    """Short ticks in staggered rows: inside a ring of points, over the named face, or about a point or line."""
    put = tuple(paper.put(p) for p in flat_all(look.view, points))
    if len(put) > 2:
        ticks = _ticks(_seen_in(cue, points, shown, look, paper), longest(put))
    elif cue.text in FACE_FRAMES:
        along = _way(FACE_FRAMES[cue.text].u, look.view)
        ticks = _off_plugs(_ticks(_face(cue, points, shown, look, paper), along), look, paper)
    else:
        ticks = _ticks((_strip(put[0], put[-1]),), _unit(put[0], put[-1]))
    return bedded(ticks, ink)


def _off_plugs(ticks: list[Ring], look: Look, paper: Paper) -> list[Ring]:
    """The ticks without those on what is let into a face, such as a plug: they would seem marks of it."""
    plugs = inlaid(look, paper)
    if not plugs or not ticks:
        return ticks
    ends = np.array(ticks)
    on = taken((), plugs).near(ends[:, 0], ends[:, -1], AIR)
    return [tick for tick, here in zip(ticks, on.tolist(), strict=True) if not here] or ticks


def is_spot(cue: Cue) -> bool:
    """Whether a cue is a spot of a face that is sanded by itself."""
    return cue.kind == "sand" and len(cue.points) > 2


def glued(
    cue: Cue, points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink
) -> tuple[Mark, ...]:
    """Small rings in a staggered pattern inside a ring of points, or around the axis between two of them.

    Dots are the ends of leaders.
    """
    put = tuple(paper.put(flat(look.view, p)) for p in points[:2])
    along = _unit(put[0], put[-1])
    if len(points) > 2:
        polygons = _seen_in(cue, points, shown, look, paper)
        return ringed(_filled(_dots(polygons, along, DOTS), middles(polygons, DOTS[1]), FURTHER), ink)
    polygons = _seen_around(cue, points, shown, look, paper)
    small = _clear(middles(polygons, CLOSE[1]), polygons, TIGHT)
    return ringed(_filled(_dots(polygons, along, CLOSE, TIGHT), small, CLOSE[0]), ink)


def ringed(spots: Sequence[Point], ink: Ink) -> tuple[Mark, ...]:
    """Rings where glue goes, white in the middle."""
    pens = (Pen(DOT, accent(GLUE, ink)), Pen(DOT / 2, PAPER))
    return tuple(Stroke((spot,), pen, "glue face") for pen in pens for spot in spots)


def uncrowded(signs: Sequence[tuple[Mark, ...]]) -> list[tuple[Mark, ...]]:
    """The signs of a picture, of which those for glue have no ring on or close to a ring of one before."""
    kept: list[Point] = []
    found: list[tuple[Mark, ...]] = []
    for marks in signs:
        spots = {m.points[0] for m in marks if isinstance(m, Stroke) and m.layer == "glue face"}
        close = {spot for spot in spots if any(math.dist(spot, other) < CROWDED for other in kept)}
        kept += sorted(spots - close)
        found.append(tuple(m for m in marks if not (isinstance(m, Stroke) and m.points[0] in close)))
    return found


def _dots(polygons: Sequence[Polygon2], along: Point, apart: tuple[float, float], clear: float = CLEAR) -> list[Point]:
    """Places in rows about the middle of an area that keep off its edges."""
    return _clear(_about_middle(polygons, along, apart), polygons, clear)


def _about_middle(polygons: Sequence[Polygon2], along: Point, apart: tuple[float, float]) -> list[Point]:
    """Places in rows over all that an area reaches, one of them in the middle of that."""
    corners = [p for outer, _ in polygons for p in outer]
    if not corners:
        return []
    us, vs = zip(*corners, strict=True)
    u, v = (min(us) + max(us)) / 2, (min(vs) + max(vs)) / 2
    about = [(tuple((x - u, y - v) for x, y in outer), _shifted(holes, u, v)) for outer, holes in polygons]
    return [(x + u, y + v) for x, y in _rows(about, along, apart)]


def _clear(spots: Sequence[Point], polygons: Sequence[Polygon2], clear: float) -> list[Point]:
    """The places that keep so far off the edges of an area, mm on paper."""
    looks = [(x + clear * dx, y + clear * dy) for x, y in spots for dx, dy in AROUND]
    free = inside(polygons, looks) if looks else ()
    each = len(AROUND)
    return [spot for n, spot in enumerate(spots) if all(free[each * n : each * (n + 1)])]


def _shifted(holes: Sequence[Ring], u: float, v: float) -> tuple[Ring, ...]:
    return tuple(tuple((x - u, y - v) for x, y in hole) for hole in holes)


def _filled(found: Sequence[Point], others: Sequence[Point], apart: float) -> list[Point]:
    """The places, with those of the others that are so far from all of them, and from one another."""
    kept = list(found)
    for spot in others:
        if all(math.dist(spot, other) > apart for other in kept):
            kept.append(spot)
    return kept


def bedded(lines: Sequence[Ring], ink: Ink) -> tuple[Mark, ...]:
    """Lines on white beds, so that they show on dark woods too; with less white than line, or the white would read."""
    pens = (Pen(0.55, PAPER), Pen(0.35, accent(WORK, ink)))
    return tuple(Stroke(line, pen, "sand") for pen in pens for line in lines)


def _ticks(polygons: Sequence[Polygon2], along: Point) -> list[Ring]:
    """The ticks that keep off the edges, where they would be taken for lines of the drawing; all where none does.

    A part of the area that has few, as it is small or narrow, has one or more along its middle.
    """
    ticks = _pattern(polygons, along, ROWS, TICK)
    found = _off_edges(polygons, along, ticks) or ticks
    return [tick for polygon in polygons for tick in _of_part(polygon, found)]


def _off_edges(polygons: Sequence[Polygon2], along: Point, ticks: Sequence[Ring], air: float = AIR) -> list[Ring]:
    u, v = along
    around = [(air * (a * u - b * v), air * (a * v + b * u)) for a, b in ((-1, -1), (-1, 1), (1, -1), (1, 1))]
    looks = [(x + dx, y + dy) for tick in ticks for x, y in (tick[0], tick[-1]) for dx, dy in around]
    free = inside(polygons, looks)
    each = 2 * len(around)
    return [tick for n, tick in enumerate(ticks) if all(free[n * each : (n + 1) * each])]


def _of_part(polygon: Polygon2, ticks: Sequence[Ring]) -> list[Ring]:
    """The ticks of a pattern in one part of an area, or where they are few, smaller ones, or one or more along its
    middle.
    """
    mine = [tick for tick, here in zip(ticks, inside([polygon], [t[0] for t in ticks]), strict=True) if here]
    middle = _along_middle(polygon)
    if len(mine) < FEW:
        small = _small(polygon) if len(middle) < FEW else []
        return small if len(small) >= FEW else middle if len(middle) >= len(mine) else mine
    # The narrow parts of an area that is wide elsewhere are sanded as well.
    bare = [tick for tick in middle if all(math.dist(tick[0], other[0]) > ROWS[1] for other in mine)]
    return [*mine, *(tick for tick in bare if all(inside([polygon], tick)))]


def _small(polygon: Polygon2) -> list[Ring]:
    """Smaller ticks that keep off the edges, in staggered rows about the middle of an area along its longest edge."""
    if len(polygon[0]) < 3:
        return []
    ring = Area.of(polygon[0]).coarser(NEAR).rings[0]
    u, v = along = _unit(*max(zip(ring, (*ring[1:], ring[0]), strict=True), key=lambda edge: math.dist(*edge)))
    half, spots = SMALL_TICK / 2, _about_middle([polygon], along, CLOSE_ROWS)
    ticks = [((x - half * u, y - half * v), (x + half * u, y + half * v)) for x, y in spots]
    return _off_edges([polygon], along, ticks, CLOSE_AIR)


def _along_middle(polygon: Polygon2) -> list[Ring]:
    """Ticks along the middle of a narrow area, no longer than it is."""
    if len(polygon[0]) < 3:
        return []
    u, v = longest(polygon[0])
    ts = [x * u + y * v for x, y in polygon[0]]
    half = min(TICK, FILLS * (max(ts) - min(ts))) / 2
    return [((x - half * u, y - half * v), (x + half * u, y + half * v)) for x, y in middles([polygon], ROWS[1])]


def _pattern(polygons: Sequence[Polygon2], along: Point, apart: tuple[float, float], length: float) -> list[Ring]:
    """Short lines in staggered rows over polygons on paper; only what lies wholly inside."""
    u, v = along
    lines = [((x, y), (x + length * u, y + length * v)) for x, y in _rows(polygons, along, apart)]
    return [line for line in clip_lines(polygons, lines) if math.dist(line[0], line[-1]) > 0.9 * length]


def _rows(polygons: Sequence[Polygon2], along: Point, apart: tuple[float, float]) -> list[Point]:
    """Places in staggered rows over all that polygons reach, about MOST at most."""
    if not polygons:
        return []
    across = (-along[1], along[0])
    corners = [p for outer, _ in polygons for p in outer]
    ts = [p[0] * along[0] + p[1] * along[1] for p in corners]
    ns = [p[0] * across[0] + p[1] * across[1] for p in corners]
    size = (max(ts) - min(ts)) * (max(ns) - min(ns))
    wider = max(1.0, math.sqrt(size / (apart[0] * apart[1] * MOST)))
    row, pitch = apart[0] * wider, apart[1] * wider
    found = []
    for k in range(math.ceil(min(ns) / row), math.floor(max(ns) / row) + 1):
        shift = pitch / 2 if k % 2 else 0.0
        for j in range(math.ceil((min(ts) - shift) / pitch), math.floor((max(ts) - shift) / pitch) + 1):
            t, n = j * pitch + shift, k * row
            found.append((along[0] * t + across[0] * n, along[1] * t + across[1] * n))
    return found


def _face(cue: Cue, points: Sequence[Vec3], shown: Sequence[Shown], look: Look, paper: Paper) -> tuple[Polygon2, ...]:
    """The visible parts, on paper, of the named face of the piece of a cue: what lies as far out as the cue.

    A flat that passes into a rounding without an edge is a part of a curved surface.
    """
    direction = direction_of(cue.text)
    mine = next(n for n, s in enumerate(shown) if s.piece.name == cue.piece)
    faces = [f for f in look.faces if f.piece == mine]
    found = [q for f in faces if f.lies_on(points[0], direction) for q in f.polygons]
    if dot(direction, look.view.toward) > 0:
        solid = coarse(tuple(s.piece.solid for s in shown)).solids[mine]
        flats, surfaces = _flats_at(solid, shown[mine].apart, points[0], direction, look.view)
        bent = [q for f in faces if f.curved and f.surface in surfaces for q in f.polygons]
        found += overlap(flats, bent) if bent else ()
    if not found:
        found = [q for f in faces if dot(f.normal, direction) > 0.9 for q in f.polygons]
    return paper.polygons(found)


def _flats_at(
    solid: Solid, apart: Vec3, point: Vec3, direction: Vec3, view: View
) -> tuple[tuple[Polygon2, ...], frozenset[int]]:
    """What of a solid lies in the plane through a point of the world, in the view, and on which smooth surfaces."""
    vertices, triangles = solid.mesh
    placed = vertices + np.asarray(apart)
    out = np.abs(placed @ np.asarray(direction) - dot(direction, point)) < NEAR
    surface = groups(solid)
    there = out[triangles].all(axis=1) & (surface.normals @ np.asarray(direction) > LIKE)
    flats = joined_triangles((placed @ np.array([view.right, view.up]).T)[triangles[there]])
    return flats, frozenset(surface.tags[there].tolist())


def _seen_in(
    cue: Cue, points: Sequence[Vec3], shown: Sequence[Shown], look: Look, paper: Paper
) -> tuple[Polygon2, ...]:
    """The part of a flat ring, on paper, that is seen on a face of its piece (of any piece if none is named)."""
    normal = _normal(points)
    faces = [
        face
        for face in look.faces
        if cue.piece in ("", shown[face.piece].piece.name)
        and (face.lies_on(points[0], normal) or face.lies_on(points[0], negated(normal)))
    ]
    ring = flat_all(look.view, points)
    return paper.polygons(overlap(((ring, ()),), [q for face in faces for q in face.polygons]))


def _seen_around(
    cue: Cue, points: Sequence[Vec3], shown: Sequence[Shown], look: Look, paper: Paper
) -> tuple[Polygon2, ...]:
    """What is seen, on paper, of the round side of a piece between the ends of an axis."""
    way = plus(points[-1], negated(points[0]))
    mine = next((n for n, s in enumerate(shown) if s.piece.name == cue.piece), None)
    if mine is None or not any(way):
        return ()
    seen = [q for face in look.faces if face.curved and face.piece == mine for q in face.polygons]
    sizes = np.ptp(points_of([outer for outer, _ in seen]), axis=0) if seen else np.zeros(2)
    if sizes.min() * paper.scale < 2 * TIGHT:  # no ring has room
        return ()
    return paper.polygons(overlap(_side_between(shown[mine], points[0], way, look.view), seen))


def _side_between(shown: Shown, start: Vec3, way: Vec3, view: View) -> tuple[Polygon2, ...]:
    """The side of a piece about an axis of so many mm that begins at a point of the world, as far as it looks here."""
    long = math.hypot(*way)
    axis = times(way, 1 / long)
    level = dot(plus(start, negated(shown.apart)), axis)
    between = shown.piece.solid.split(axis, level)[0].split(axis, level + long)[1]
    vertices, triangles = between.mesh
    placed = vertices + np.asarray(shown.apart)
    normals = groups(between).normals
    here = (normals @ np.asarray(view.toward) > 0) & (np.abs(normals @ np.asarray(axis)) < ALONG)
    return joined_triangles((placed @ np.array([view.right, view.up]).T)[triangles[here]])


def _normal(points: Sequence[Vec3]) -> Vec3:
    """Unit normal of a flat ring of points (Newell's sum of cross products)."""
    ring = np.asarray(points)
    after = np.roll(ring, -1, axis=0)
    less, more = ring - after, ring + after
    x, y, z = (float(less[:, k] @ more[:, (k + 1) % 3]) for k in (1, 2, 0))
    size = math.hypot(x, y, z) or 1.0
    return (x / size, y / size, z / size)


def _strip(one: Point, two: Point) -> Polygon2:
    """A strip 4 mm wide along a line, a little longer than the line."""
    u, v = _unit(one, two)
    a, b = (one[0] - 3 * u, one[1] - 3 * v), (two[0] + 3 * u, two[1] + 3 * v)
    return (
        (a[0] - 2 * v, a[1] + 2 * u),
        (b[0] - 2 * v, b[1] + 2 * u),
        (b[0] + 2 * v, b[1] - 2 * u),
        (a[0] + 2 * v, a[1] - 2 * u),
    ), ()


def _way(direction: Vec3, view: View) -> Point:
    u, v = flat(view, direction)
    size = math.hypot(u, v)
    return (u / size, -v / size) if size > 1e-9 else (1.0, 0.0)


def _unit(one: Point, two: Point) -> Point:
    size = math.dist(one, two)
    return ((two[0] - one[0]) / size, (two[1] - one[1]) / size) if size > 1e-9 else (1.0, 0.0)
