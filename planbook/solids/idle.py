"""Where a line on a face runs along the edge of the face, so that nothing comes off there; it draws nothing."""

from collections.abc import Sequence

import shapely
from shapely import LineString

from planbook.solids.plane import Area, Path, blank_area

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


def _near(runs: Sequence[Path], face: Area) -> bool:
    """Whether a line comes to an edge of a face or of its hull at all."""
    edges = shapely.boundary([face.shape, face.hull.shape])
    return any(bool(shapely.dwithin(edges, LineString(run.points), ON_EDGE).any()) for run in runs)
