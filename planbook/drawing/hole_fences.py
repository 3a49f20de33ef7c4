"""How far the holes that a step bores lie from the edges of their face, where no stencil marks them; draws nothing."""

import math
from collections.abc import Container, Mapping, Sequence
from dataclasses import replace
from itertools import chain

import numpy as np

from planbook.drawing.cues import world_points
from planbook.drawing.fence import ON
from planbook.drawing.hole_begins import MIDDLE, Begin, begins_of
from planbook.drawing.mouths import mouth_of
from planbook.drawing.stage import BORED, Fence, Stage
from planbook.solids import AXES, Vec3
from planbook.solids.frames import dot, negated
from planbook.speech import say
from planbook.workshop.registry import operation_of
from planbook.workshop.timeline import Event, Shown

STRAIGHT = 0.4
"""An edge is straight if its corners are so far from one another, as a share of the piece."""
SAME = 0.05
MOST = 5
"""So many distances are told at most."""


def measured(event: Event) -> bool:
    """Whether a step bores holes that are measured from edges."""
    settings = dict(event.settings)
    return (operation_of(event).DRAWN.fastens == "hole" and bool(settings.get("at"))) or BORED in settings


def hole_fences(stage: Stage, event: Event) -> tuple[Fence, ...]:
    """The distances of the holes that a picture may tell, MOST at the most, the least first.

    Each is told once; that of another hole which is the same stands behind it, for where the first has no room.
    """
    ranked = _every(stage, event)
    told = list(dict.fromkeys(fence.told_as for fence in ranked))[:MOST]
    return tuple(fence for each in told for fence in ranked if fence.told_as == each)


def untold(stages: Sequence[Stage], event: Event, told: Container[tuple[float, ...]]) -> str:
    """A sentence where the places of what is bored are not all among what is `told`; "" if they are.

    Otherwise a hole without a figure would look forgotten.
    """
    places = any(each.told_as not in told for stage in stages for each in _every(stage, event))
    return say("Measures that are not drawn stand in the settings.") if places or _bare(event) else ""


def _bare(event: Event) -> bool:
    """Whether what a step cuts at measured places has no axis, such as plugs; what is put in finds its hole."""
    axes = any(cue.kind == "drill axis" for cue in event.show.cues) if event.show else False
    return bool(dict(event.settings).get("at")) and not axes and operation_of(event).DRAWN.laid != "moved"


def _every(stage: Stage, event: Event) -> list[Fence]:
    """The distances of the holes from where the step measures them, or else from the nearest straight edges of their
    face, the least first. What lies in the middle of a face is not measured.
    """
    if not measured(event):
        return []
    axes = [cue for cue in stage.show.cues if cue.kind == "drill axis" and cue.points]
    numbers = {shown.piece.name: n for n, shown in enumerate(stage.pieces)}
    holes = [(cue.piece, *mouth_of(world_points(cue, stage.pieces))) for cue in axes if cue.piece in numbers]
    begins = [begins_of(event, name, out) for name, _, out in holes]
    found = chain.from_iterable(
        _of(numbers[name], stage.pieces[numbers[name]], mouth, out, begin)
        for (name, mouth, out), begin in zip(holes, begins, strict=True)
        if begin or (operation_of(event).DRAWN.fastens == "hole" and not any(begins))  # other axes are those of screws
    )
    return sorted(found, key=lambda fence: fence.far)


def _of(number: int, shown: Shown, mouth: Vec3, out: Vec3, begins: Mapping[str, Begin]) -> list[Fence]:
    """The distances of one hole, at most one for each axis along its face: from where the step measures it, or else
    from the nearer edge."""
    found = []
    for name, axis in AXES.items():
        if abs(dot(axis, out)) < SAME:
            ways = (axis, negated(axis))
            begin = begins.get(name)
            asked = [begin is not None and begin != MIDDLE and dot(way, begin) > 0.5 for way in ways]
            each = (_from(number, shown, mouth, out, way, told) for way, told in zip(ways, asked, strict=True))
            sides = sorted((fence for fence in each if fence is not None), key=lambda fence: fence.far)
            even = len(sides) > 1 and sides[1].far - sides[0].far < SAME
            if begin == MIDDLE:
                found += [] if even or len(sides) < 2 else [_centred(*sides)]
            elif sides and not even:
                found.append(next((f for f in sides if begin is not None and dot(f.way, begin) > 0.5), sides[0]))
    return found


def _centred(near: Fence, far: Fence) -> Fence:
    """How far a hole is from the middle between two edges of its face; it is nearer to the first."""
    wide = near.far + far.far
    return replace(far, level=far.level - wide / 2, far=wide / 2 - near.far, centred=True)


def _from(number: int, shown: Shown, mouth: Vec3, out: Vec3, way: Vec3, told: bool) -> Fence | None:
    """How far a hole is from the edge on one side; None where that is no straight edge of its face.

    That from which it is `told` to be measured may lie far behind the hole, as on a face that is curved.
    """
    points = shown.piece.solid.mesh[0] + np.asarray(shown.apart)
    levels = points @ np.asarray(way)
    level = float(levels.max())
    near = np.abs(points @ np.asarray(out) - dot(mouth, out)) < (np.inf if told else ON)
    edge = points[(np.abs(levels - level) < SAME) & near]
    if not len(edge) or _long(edge) < STRAIGHT * _long(points, way, out):
        return None
    return Fence(number, way, level, level - dot(mouth, way), (mouth, out))


def _long(points: "np.ndarray[tuple[int, ...], np.dtype[np.float64]]", *across: Vec3) -> float:
    """The greatest extent of points along the axes, but for some."""
    sizes: Sequence[float] = np.ptp(points, axis=0).tolist()
    kept = [
        size for size, axis in zip(sizes, AXES.values(), strict=True) if all(abs(dot(axis, a)) < 0.5 for a in across)
    ]
    return max(kept, default=math.inf)
