"""Where a line on a face runs along the edge of the face, so that nothing comes off there; it draws nothing."""

from collections.abc import Sequence

import shapely
from shapely import LineString

from planbook.solids.plane import Area, Path, blank_area, box

ON_EDGE = 0.03
"""So near to an edge of the face a line lies on it, mm."""
LEAST = 4.5
"""A stretch along an edge that is no longer than this, mm, is not told apart from the rest."""


def worked(runs: Sequence[Path], face: Area, taken: Area | None = None) -> tuple[Path, ...]:
    """Lines without the stretches along an edge of the face, over the mouths of housings too: beyond its hull is no
    wood.

    Where wood is `taken` beside an edge, the line stays. So do lines that run along edges all the way, for they are
    all there is to see.
    """
    if face.empty or not _near(runs, face):
        return tuple(runs)
    bands = [area.offset(ON_EDGE).minus(area.offset(-ON_EDGE)) for area in (face, face.hull)]
    idle = bands[0].plus(bands[1])
    if taken is not None and not taken.empty:
        idle = idle.minus(taken.meet(face).offset(2 * ON_EDGE))
    left_out = [part.band(ON_EDGE) for run in runs for part in run.inside(idle) if part.length > LEAST]
    kept = [part for run in runs for part in run.outside(blank_area().plus(*left_out))] if left_out else []
    return tuple(kept or runs)


def over_wood(runs: Sequence[Path], face: Area, past: float) -> tuple[Path, ...]:
    """Lines as far as they lie over a face, its housings too, and `past` mm on; those that nowhere do as they are.

    A line that is closed in the air beside the face ends at its edge so.
    """
    if face.empty:
        return tuple(runs)
    wood = face.hull.offset(past)
    found = [part for run in runs for part in _inside(run, wood)]
    return tuple(found) or tuple(runs)


def _inside(run: Path, wood: Area) -> tuple[Path, ...]:
    """The stretches of a line in an area; round the end of a closed line they are one."""
    if sum(part.length for part in run.inside(wood)) > run.length - 1e-6:
        return (run,)
    left, low, right, high = run.bounds
    return run.outside(box(left - 1, low - 1, right - left + 2, high - low + 2).minus(wood))


def _near(runs: Sequence[Path], face: Area) -> bool:
    """Whether a line comes to an edge of a face or of its hull at all."""
    edges = shapely.boundary([face.shape, face.hull.shape])
    return any(bool(shapely.dwithin(edges, LineString(run.points), ON_EDGE).any()) for run in runs)
