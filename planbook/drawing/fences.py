"""The distances that a step is set to, one or several: which pieces show them, and the marks of all that have room."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import chain, islice

from planbook.drawing.beside_stop import stops_of
from planbook.drawing.cues import world_points
from planbook.drawing.fence import beyond, drawn
from planbook.drawing.hole_fences import MOST, hole_fences, measured
from planbook.drawing.marks import Fill, Mark, Ring, Stroke
from planbook.drawing.names import Bounds, Box
from planbook.drawing.paper import Paper
from planbook.drawing.stage import FURTHER, Fence, Stage
from planbook.solids import FACE_FRAMES, Vec3
from planbook.solids.frames import dot, times
from planbook.solids.visible import Polygon2
from planbook.units import LengthStyle
from planbook.workshop.timeline import Event

SAME = 0.05
"""A piece is as thick as the fence says if it is no further off than this, mm."""
TRIED = 3
"""In so many places the first distance is tried, for where it stands others may find no room."""
SIZES = (("right", "width"), ("back", "depth"), ("top", "height"))
"""Along the ways of these faces a blank is squared to these sizes."""

Told = tuple[Fence, tuple[Mark, ...]]
"""A distance and the marks that tell it."""


def tells_distance(event: Event) -> bool:
    """Whether a step is set to a distance that its picture may tell."""
    return measured(event) or any(_settings(event))


def fences_of(stage: Stage, event: Event) -> tuple[Fence, ...]:
    """The distances that a step is set to, where the pieces show them: all of one that is shown by several.

    What a cut is stopped before comes last.
    """
    found = [fence for way, far, kind in _settings(event) for fence in _shown(stage, way, far, kind)]
    edges = list(dict.fromkeys(fence.edge for fence in found))
    found.sort(key=lambda fence: (edges.index(fence.edge), fence.far))  # what is nearer to an edge is told first
    first = list(dict.fromkeys(fence.told_as for fence in found))[:MOST]
    told = tuple(fence for each in first for fence in found if fence.told_as == each)
    return told or hole_fences(stage, event)


def _settings(event: Event) -> list[tuple[Vec3, float, str]]:
    """Which way, how far, and whether that is how thick a piece is, where a cut begins, or the step it leaves."""
    every = [dict(s) for s in (event.settings, *dict(event.settings).get(FURTHER, ()))]
    ways = [(each.get("face"), each.get(key), "thick") for each in every for key in ("fence", "stop", "to")]
    squared = [each for each in every if "face" not in each and all(size in each for _, size in SIZES)]
    ways += [(face, each[size], "thick") for each in squared for face, size in SIZES]
    ways += [(each.get("from"), each.get("distance"), "cut") for each in every]
    for face in FACE_FRAMES:
        stops = list(dict.fromkeys(each.get(f"stop before the {face}") for each in every))
        # Of several, nobody could tell which cut each belongs to, but beside the cuts.
        ways += [(face, stop, "stop" if len(stops) == 1 else "stops") for stop in stops]
    ways += [way for each in every for way in _section(each)]
    known = [(str(face), _length(far), kind) for face, far, kind in ways if face in FACE_FRAMES]
    return [(FACE_FRAMES[face].n, far, kind) for face, far, kind in known if far > 0]


def _section(settings: Mapping[str, object]) -> list[tuple[object, object, str]]:
    """How deep a rabbet is below its face, and how wide from each of its edges."""
    edges = settings.get("edges")
    if not isinstance(edges, tuple):
        return []
    wide = [(edge, settings.get("width"), "step") for edge in edges]
    return [(settings.get("face"), settings.get("depth"), "step"), *wide]


def _shown(stage: Stage, way: Vec3, far: float, kind: str) -> list[Fence]:
    waste = [n for n, s in enumerate(stage.pieces) if s.role == "waste"] if kind == "thick" else []
    pieces = dict.fromkeys((*stage.matters, *waste))
    if kind in ("stop", "stops"):
        # One of a pair may be laid the other way.
        ways = [(n, each) for n in pieces for each in (way, times(way, -1.0))]
        return [replace(f, near=kind == "stops") for n, each in ways for f in stops_of(stage, n, each, far)]
    found = [FIND[kind](stage, n, way, far) for n in pieces]
    return [fence for fence in found if fence is not None]


def _length(value: object) -> float:
    """A length in mm, or 0."""
    if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
        return 0.0
    return max(float(value), 0.0)


def _thickness(stage: Stage, n: int, way: Vec3, far: float) -> Fence | None:
    """The piece, if it came out as thick as the fence was set."""
    solid = stage.pieces[n].piece.solid
    top, bottom = solid.reach(way), -solid.reach(times(way, -1.0))
    return Fence(n, way, top + dot(stage.pieces[n].apart, way), far) if abs(top - bottom - far) < SAME else None


def _from_edge(stage: Stage, n: int, way: Vec3, far: float) -> Fence | None:
    """From the edge of a piece to where a cut begins."""
    shown = stage.pieces[n]
    level = shown.piece.solid.reach(way) + dot(shown.apart, way)
    cuts = [c for c in stage.show.cues if c.kind == "cut line" and c.piece == shown.piece.name]
    begin = [max(dot(p, way) for p in world_points(cut, stage.pieces)) for cut in cuts]
    return Fence(n, way, level, far) if any(abs(level - each - far) < SAME for each in begin) else None


def _to_step(stage: Stage, n: int, way: Vec3, far: float) -> Fence | None:
    """From the edge of a piece to the step of a rabbet, beside the rabbet itself."""
    shown = stage.pieces[n]
    return Fence(n, way, shown.piece.solid.reach(way) + dot(shown.apart, way), far, cornered=True)


FIND: Mapping[str, Callable[[Stage, int, Vec3, float], Fence | None]]
FIND = {"thick": _thickness, "cut": _from_edge, "step": _to_step}


def all_drawn(
    stage: Stage,
    paper: Paper,
    style: LengthStyle | None,
    around: Sequence[Polygon2],
    wires: Sequence[Ring],
    leaders: Sequence[Ring],
    size: tuple[float, float],
    last: bool = False,
) -> tuple[Told, ...]:
    """Each distance of a picture that finds room, with its marks, the first first.

    At `last`, when nothing gives way any more, they may stand on wood, and where need be, one of `leaders` crosses one.

    `size` is the width and height of the picture, mm. Of what is measured from one edge none is told unless all that
    is nearer to it is, there or on another piece that lies level with it: it could be taken for that.
    """
    every = _fences(stage)
    groups = _in_turn(every)

    def places(fences: Sequence[Fence], told: Sequence[Told], crossing: bool) -> Iterator[Told]:
        marks = tuple(chain.from_iterable(m for _, m in told))
        ways = (([*wires, *leaders], ()), (wires, leaders))[: 2 if crossing else 1]
        found = (p for clear, may in ways for p in drawn(fences, stage, paper, style, around, clear, marks, may, last))
        return (each for each in found if _within(each[1], size))

    best: list[Told] = []
    for crossing in (False, True)[: 2 if last and leaders else 1]:
        alone: int | None = None
        firsts = [[each] for each in islice(places(groups[0], (), crossing), TRIED)] if groups else []
        for told in firsts or [list[Told]()]:
            for fences in groups[1:]:
                told += islice(places(_next_to(fences, every, [f for f, _ in told]), told, crossing), 1)
            best = max(best, told, key=len)
            if len(best) < len(groups) and alone is None:  # what finds no room by itself waits for no other
                alone = sum(any(True for _ in islice(places(fences, (), crossing), 1)) for fences in groups)
            if len(best) >= (len(groups) if alone is None else alone):
                break
        if len(best) == len(groups):
            break
    return tuple(best)


def _next_to(fences: Sequence[Fence], every: Sequence[Fence], told: Sequence[Fence]) -> list[Fence]:
    """Those of fences of which all that is nearer to their edge is told."""
    edged = [f for f in every if not f.stop]  # what stands beside its cut is taken for nothing else
    nearer = {id(f): {o.told_as for o in edged if o.edge == f.edge and o.far < f.far - SAME} for f in fences}
    beside = {(f.edge[1:], f.told_as) for f in told}
    return [f for f in fences if f.stop or all((f.edge[1:], each) in beside for each in nearer[id(f)])]


def _fences(stage: Stage) -> list[Fence]:
    return [stage.fence, *stage.further] if stage.fence is not None else []


def _in_turn(every: Sequence[Fence]) -> list[list[Fence]]:
    """Those of which one is told together, and none before what is nearer to its edge."""
    groups: dict[tuple[float, ...], list[Fence]] = {}
    for fence in every:
        groups.setdefault(fence.told_as, []).append(fence)
    return list(groups.values())


def rooms_of(stage: Stage, bounds: Bounds, scale: float) -> list[list[Box]]:
    """How far each dimension reaches over the bounds, one for each place where it may be told; see `fence.beyond`."""
    return [beyond(fences, stage, bounds, scale) for fences in _in_turn(_fences(stage))]


def _within(marks: Sequence[Mark], size: tuple[float, float]) -> bool:
    points = [p for m in marks if isinstance(m, Stroke) for p in m.points]
    points += [p for m in marks if isinstance(m, Fill) for ring in m.rings for p in ring]
    return all(0 <= x <= size[0] and 0 <= y <= size[1] for x, y in points)
