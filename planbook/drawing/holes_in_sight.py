"""A second view of a step for the holes whose mouths the first does not show; draws nothing."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from planbook.drawing.cues import world_points
from planbook.drawing.ghost import outline
from planbook.drawing.look import look
from planbook.drawing.mouths import mouth_of
from planbook.drawing.sight import points_in_sight
from planbook.drawing.stage import Stage
from planbook.drawing.views import ORDER, from_side
from planbook.solids.frames import dot
from planbook.solids.visible import View, isometric
from planbook.workshop.timeline import Cue


@lru_cache(maxsize=64)
def with_all_holes(views: tuple[Stage, ...]) -> tuple[Stage, ...]:
    """The views of a step; where there is one that hides mouths of holes, with another that shows most of those.

    The axes of these holes are then drawn there alone. What no view shows stays as it is.
    """
    if len(views) != 1:
        return views
    stage = views[0]
    axes = [cue for cue in stage.show.cues if cue.kind == "drill axis" and cue.points]
    hidden = [cue for cue in axes if cue not in _seen(axes, stage, stage.look.view)]
    if not hidden:
        return views
    shown = {way: _seen(hidden, stage, isometric(*way)) for way in ORDER}
    best = max(ORDER, key=lambda way: (len(shown[way]), way[1], -ORDER.index(way)))
    there = shown[best]
    if not there:
        return views
    first = replace(stage, show=replace(stage.show, cues=tuple(c for c in stage.show.cues if c not in there)))
    return (first, _second(stage, best, there))


def _seen(axes: Sequence[Cue], stage: Stage, view: View) -> list[Cue]:
    """Those of the axes whose mouths are in sight, and look to the reader."""
    mouths = [(cue, *mouth_of(world_points(cue, stage.pieces))) for cue in axes]
    facing = [(cue, mouth) for cue, mouth, out in mouths if dot(out, view.toward) > 0]
    seen = set(points_in_sight([mouth for _, mouth in facing], stage.pieces, view))
    return [cue for cue, mouth in facing if mouth in seen]


def _second(stage: Stage, way: tuple[int, bool], axes: Sequence[Cue]) -> Stage:
    """The view from another side with these axes alone, and the names of their pieces."""
    choice = from_side(*way)
    calm = tuple(n for n, s in enumerate(stage.pieces) if s.role == "context")
    seen = look(stage.placed, choice.view, calm)
    pieces = {cue.piece for cue in axes}
    matters = tuple(n for n, s in enumerate(stage.pieces) if s.piece.name in pieces)
    return replace(
        stage,
        show=replace(stage.show, cues=tuple(axes)),
        choice=choice,
        look=seen,
        before=outline(stage.pieces, seen),
        bystanders=False,
        matters=matters,
    )
