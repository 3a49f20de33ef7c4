"""From where the holes of a step are measured: the way to an edge of their face, or its middle; draws nothing."""

from collections.abc import Mapping
from typing import Final, Literal

from planbook.drawing.stage import BORED, FURTHER
from planbook.model import Node
from planbook.solids import AXES, FACE_FRAMES, Vec3
from planbook.solids.frames import dot, negated, plus, times
from planbook.workshop.spots import MEASURED_FROM
from planbook.workshop.timeline import Event

MIDDLE: Final = "middle"
Begin = Vec3 | Literal["middle"]
"""The way to the edge that is measured from, or the middle of the face."""
_ORIGINS = {words: origin for origin, words in MEASURED_FROM.items()}


def begins_of(event: Event, piece: str, out: Vec3) -> Mapping[str, Begin]:
    """From where a hole in a piece is measured, by the name of the axis; `out` points out of the hole.

    Nothing where the step does not say it, or says it in several ways.
    """
    found = []
    main = dict(event.settings)
    for settings in (event.settings, *main.get(FURTHER, ()), *main.get(BORED, ())):
        told = dict(settings)
        over = _across(event) if told.get("mirrored on") == piece and settings is event.settings else None
        face = FACE_FRAMES.get(str(told.get("face")))
        if face is not None and dot(_mirrored(face.n, over), out) > 0.99:
            origin = _ORIGINS.get(str(told.get("measured from")), "")
            found.append(_begins(origin, _mirrored(face.u, over), _mirrored(face.v, over)))
    return found[0] if found and all(each == found[0] for each in found) else {}


def _begins(origin: str, u: Vec3, v: Vec3) -> Mapping[str, Begin]:
    across: Mapping[str, Begin] = {"lower left": negated(u), "lower right": u, "lower middle": MIDDLE, MIDDLE: MIDDLE}
    if origin not in across:
        return {}
    return {_axis(u): across[origin], _axis(v): MIDDLE if origin == MIDDLE else negated(v)}


def _axis(way: Vec3) -> str:
    return max(AXES, key=lambda name: abs(dot(AXES[name], way)))


def _mirrored(way: Vec3, over: Vec3 | None) -> Vec3:
    return way if over is None else plus(way, times(over, -2 * dot(way, over)))


def _across(event: Event) -> Vec3 | None:
    mirror = event.operation.fields.table().get("mirror")
    axis = mirror.table().get("across") if isinstance(mirror, Node) else None
    return AXES.get(str(axis.value)) if isinstance(axis, Node) else None
