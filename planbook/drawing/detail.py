"""Which small thing of a step is worth a second look, larger: a piece, a hole, the end of a groove; draws nothing."""

import math
from dataclasses import dataclass

from planbook.drawing.cues import world_points
from planbook.drawing.sight import in_sight, points_in_sight, runs_in_sight
from planbook.drawing.stage import Stage
from planbook.solids import Vec3
from planbook.solids.frames import dot, plus, times
from planbook.workshop.timeline import Cue, Event

SMALL = 3.0
"""What is smaller than this on paper, mm, is enlarged."""
AROUND = 2.0
"""How much of what is around a small thing is shown with it, in its own sizes."""
_HOLES = ("diameter", "hole")
_CUTS = {
    "groove": ("width", "depth"),
    "dado": ("width", "depth"),
    "rabbet": ("width", "depth"),
    "round over": ("radius",),
    "chamfer": ("width",),
}
"""Cuts with a section, and the settings that tell its size; a rounding that is only recorded has none."""


@dataclass(frozen=True, slots=True)
class Detail:
    """A place to enlarge: its middle in the world, and how far around it must be seen, mm of the object.

    `pieces` are the numbers of the pieces that it shows.
    """

    spot: Vec3
    radius: float
    pieces: tuple[int, ...] = ()


def detail_of(stage: Stage, event: Event, scale: float) -> Detail | None:
    """The place of a step to enlarge where what it is about is small on paper; `scale` is mm of paper for one mm."""
    return _piece(stage, scale) or _hole(stage, event, scale) or _cut(stage, event, scale)


def _piece(stage: Stage, scale: float) -> Detail | None:
    """The piece that shows most of those too small, with the place that it is pulled from."""
    sizes = {n: max(stage.pieces[n].piece.solid.extent) for n in stage.matters}
    small = [n for n, size in sizes.items() if size * scale < SMALL and stage.look.area_of(n) > 0]
    if not small or len(small) == len(stage.pieces):
        return None
    best = max(small, key=lambda n: (round(stage.look.area_of(n), 3), -n))
    shown = stage.pieces[best]
    size, far = sizes[best], math.hypot(*shown.apart)
    alike = tuple(n for n in small if abs(sizes[n] - size) < 0.05 * size)
    return Detail(plus(shown.piece.solid.middle, times(shown.apart, 0.5)), far / 2 + 0.8 * size, alike)


def _hole(stage: Stage, event: Event, scale: float) -> Detail | None:
    """The first hole in sight, nearest to the reader."""
    settings = dict(event.settings)
    wide = max((float(settings[key]) for key in _HOLES if isinstance(settings.get(key), float)), default=0.0)
    if not 0 < wide * scale < SMALL:
        return None
    mouths = [m for cue in stage.show.cues if cue.kind == "drill axis" and (m := _mouth(cue, stage)) is not None]
    view = stage.look.view
    seen = [m for m in sorted(mouths, key=lambda m: -dot(m, view.toward))[:6] if in_sight(m, stage.pieces, view)]
    return Detail(seen[0], AROUND * wide) if seen else None


def _mouth(cue: Cue, stage: Stage) -> Vec3 | None:
    """Where the axis of a hole leaves the face of its piece."""
    ends = world_points(cue, stage.pieces)
    shown = next((s for s in stage.pieces if s.piece.name == cue.piece), None)
    length = math.dist(ends[0], ends[-1])
    if shown is None or length < 1e-9:
        return None
    out = times(plus(ends[0], times(ends[-1], -1.0)), 1.0 / length)
    level = shown.piece.solid.reach(out) + dot(shown.apart, out)
    return plus(ends[0], times(out, level - dot(ends[0], out)))


def _cut(stage: Stage, event: Event, scale: float) -> Detail | None:
    """The end of a groove, where its section is seen best: as near to the reader as its lines come.

    An edge that is broken from end to end has no line; there it is the end of the old edge.
    """
    settings = dict(event.settings)
    told = _CUTS.get(event.operation.kind, ())
    wide = max((float(settings[key]) for key in told if isinstance(settings.get(key), float)), default=0.0)
    if settings.get("recorded") or not 0 < wide * scale < SMALL:
        return None
    view = stage.look.view
    lines = [world_points(cue, stage.pieces) for cue in stage.show.cues if cue.kind == "cut line"]
    runs = [run for line in lines for run in runs_in_sight(line, stage.pieces, view, 1.0 / scale)]
    points = [p for run in runs for p in run] or _old_corners(stage)
    return Detail(max(points, key=lambda p: dot(p, view.toward)), AROUND * wide) if points else None


def _old_corners(stage: Stage) -> list[Vec3]:
    """Corners of the wood that was taken off the pieces that matter here, where nothing is before them now."""
    found = [
        plus((x, y, z), shown.apart)
        for shown in (stage.pieces[n] for n in stage.matters)
        for solid in shown.gone
        for x, y, z in solid.mesh[0].tolist()
    ]
    return points_in_sight(found, stage.pieces, stage.look.view)
