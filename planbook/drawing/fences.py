"""The distances that a step is set to, one or several: which pieces show them, and the marks of all that have room."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from planbook.drawing.cues import world_points
from planbook.drawing.fence import drawn, taken
from planbook.drawing.hole_fences import hole_fences, measured, told_as
from planbook.drawing.marks import Fill, Mark, Ring, Stroke
from planbook.drawing.paper import Paper
from planbook.drawing.stage import Fence, Stage
from planbook.solids import FACE_FRAMES, Vec3
from planbook.solids.frames import dot, times
from planbook.solids.visible import Polygon2
from planbook.units import LengthStyle
from planbook.workshop.timeline import Event

FURTHER = "further"
"""The key of the settings of other operations that are shown in the same picture."""
SAME = 0.05
"""A piece is as thick as the fence says if it is no further off than this, mm."""


def tells_distance(event: Event) -> bool:
    """Whether a step is set to a distance that its picture may tell."""
    lengths = (value for key, value in event.settings if key in ("fence", "stop", "distance"))
    return measured(event) or any(_is_length(value) for value in lengths)


def fences_of(stage: Stage, event: Event) -> tuple[Fence, ...]:
    """The distances that a step is set to, each once, where the pieces show them."""
    found: dict[float, Fence] = {}
    for settings in (event.settings, *dict(event.settings).get(FURTHER, ())):
        fence = _of(stage, dict(settings))
        if fence is not None:
            found.setdefault(round(fence.far, 2), fence)
    return tuple(found.values()) or hole_fences(stage, event)


def _of(stage: Stage, settings: dict[str, Any]) -> Fence | None:
    far = next((float(settings[key]) for key in ("fence", "stop") if _is_length(settings.get(key))), None)
    if far is not None and settings.get("face") in FACE_FRAMES:
        return _thickness(stage, FACE_FRAMES[str(settings["face"])].n, far)
    if _is_length(settings.get("distance")) and settings.get("from") in FACE_FRAMES:
        return _from_edge(stage, FACE_FRAMES[str(settings["from"])].n, float(settings["distance"]))
    return None


def _is_length(value: object) -> bool:
    return isinstance(value, int | float | Fraction) and not isinstance(value, bool) and float(value) > 0


def _thickness(stage: Stage, way: Vec3, far: float) -> Fence | None:
    """The piece that came out as thick as the fence was set."""
    for n in stage.matters:
        solid = stage.pieces[n].piece.solid
        top, bottom = solid.reach(way), -solid.reach(times(way, -1.0))
        if abs(top - bottom - far) < SAME:
            return Fence(n, way, top + dot(stage.pieces[n].apart, way), far)
    return None


def _from_edge(stage: Stage, way: Vec3, far: float) -> Fence | None:
    """From the edge of the piece to where the cut begins."""
    for n in stage.matters:
        shown = stage.pieces[n]
        level = shown.piece.solid.reach(way) + dot(shown.apart, way)
        cuts = [c for c in stage.show.cues if c.kind == "cut line" and c.piece == shown.piece.name]
        begin = [max(dot(p, way) for p in world_points(cut, stage.pieces)) for cut in cuts]
        if any(abs(level - each - far) < SAME for each in begin):
            return Fence(n, way, level, far)
    return None


def all_drawn(
    stage: Stage,
    paper: Paper,
    style: LengthStyle,
    around: Sequence[Polygon2],
    wires: Sequence[Ring],
    size: tuple[float, float],
) -> tuple[Mark, ...]:
    """The dimensions of a picture: the first where room was left for it, the others where they still find some.

    `size` is the width and height of the picture, mm.
    """
    if stage.fence is None:
        return ()
    groups: dict[tuple[float, ...], list[Fence]] = {}
    for fence in (stage.fence, *stage.further):
        groups.setdefault(told_as(fence), []).append(fence)
    marks: tuple[Mark, ...] = ()
    for fences in groups.values():
        found = drawn(fences, stage, paper, style, [*around, *_numbers(marks)], [*wires, *taken(marks)])
        if not (found or marks or stage.fence.hole):
            break
        marks = (*marks, *found) if _within(found, size) else marks
    return marks


def _numbers(marks: Sequence[Mark]) -> list[Polygon2]:
    """The paper that numbers stand on."""
    return [(mark.rings[0], ()) for mark in marks if isinstance(mark, Fill) and mark.layer == "distance bed"]


def _within(marks: Sequence[Mark], size: tuple[float, float]) -> bool:
    points = [p for m in marks if isinstance(m, Stroke) for p in m.points]
    points += [p for m in marks if isinstance(m, Fill) for ring in m.rings for p in ring]
    return all(0 <= x <= size[0] and 0 <= y <= size[1] for x, y in points)
