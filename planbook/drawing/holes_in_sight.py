"""A second view of a step for the holes whose mouths the first does not show; draws nothing."""

import math
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

NEAR = 1.0
"""What is named so near to the mouth of a hole goes into it, mm."""


@lru_cache(maxsize=64)
def with_all_holes(views: tuple[Stage, ...]) -> tuple[Stage, ...]:
    """The views of a step; where there is one that hides mouths of holes, with another that shows most of those.

    The axes of these holes are then drawn there alone, beside those of others that are seen there too; and each view
    names what goes into the holes that it shows. What no view shows stays as it is.
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
    again = _seen(axes, stage, isometric(*best))
    first = tuple(c for cue in stage.show.cues if cue not in there and (c := _named(cue, there, gone=True)))
    second = (*again, *(c for cue in stage.show.cues if (c := _named(cue, again, gone=False))))
    return (replace(stage, show=replace(stage.show, cues=first)), _second(stage, best, second))


def _named(cue: Cue, axes: Sequence[Cue], gone: bool) -> Cue | None:
    """A note without its places at the mouths of these axes that are `gone`, or with those alone; None without any.

    Other signs stay where none is gone from, and are not drawn again.
    """
    if cue.kind != "note":
        return cue if gone else None
    mouths = [mouth_of(axis.points)[0] for axis in axes if axis.piece == cue.piece]
    places = tuple(p for p in cue.points if any(math.dist(p, mouth) < NEAR for mouth in mouths) != gone)
    if places == cue.points and places:
        return cue
    return replace(cue, points=places) if places or (gone and not cue.points) else None


def _seen(axes: Sequence[Cue], stage: Stage, view: View) -> list[Cue]:
    """Those of the axes whose mouths are in sight, and look to the reader."""
    mouths = [(cue, *mouth_of(world_points(cue, stage.pieces))) for cue in axes]
    facing = [(cue, mouth) for cue, mouth, out in mouths if dot(out, view.toward) > 0]
    seen = set(points_in_sight([mouth for _, mouth in facing], stage.pieces, view))
    return [cue for cue, mouth in facing if mouth in seen]


def _second(stage: Stage, way: tuple[int, bool], signs: Sequence[Cue]) -> Stage:
    """The view from another side with these signs alone, and the names of their pieces."""
    choice = from_side(*way)
    calm = tuple(n for n, s in enumerate(stage.pieces) if s.role == "context")
    seen = look(stage.placed, choice.view, calm)
    pieces = {cue.piece for cue in signs}
    matters = tuple(n for n, s in enumerate(stage.pieces) if s.piece.name in pieces)
    return replace(
        stage,
        show=replace(stage.show, cues=tuple(signs)),
        choice=choice,
        look=seen,
        before=outline(stage.pieces, seen),
        bystanders=False,
        matters=matters,
    )
