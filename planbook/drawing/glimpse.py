"""What is seen from a side, by looking at points of the surfaces: quick enough to try every side; it draws nothing."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from planbook.drawing.sight import OFF, front_at
from planbook.drawing.surfaces import Floats, groups
from planbook.solids import Solid, Vec3
from planbook.solids.visible import View

SPOTS = 256
"""At how many places of a piece is looked."""
_STEPS = (0.7548776662466927, 0.5698402909980532)
"""The steps of a sequence that fills a square evenly: 1/g and its square, where g^3 = g + 1 (Roberts 2018)."""


@dataclass(frozen=True, slots=True)
class Glimpse:
    """How much is seen of each piece, and how much of it looks in the direction asked for: mm2 of the picture."""

    areas: tuple[float, ...]
    facing: tuple[float, ...]


def glimpse(
    solids: Sequence[tuple[Solid, Vec3]], view: View, numbers: Collection[int], direction: Vec3, cosine: float
) -> Glimpse:
    """What is seen of the solids with these numbers, each moved by its vector (mm); 0 for the others.

    It is exact to about a fiftieth of the surface of each.
    """
    looked = [(n, np.asarray(solids[n][1]), *_spots(solids[n][0])) for n in numbers if not solids[n][0].empty]
    toward, way = np.asarray(view.toward), np.asarray(direction)
    facing = [np.flatnonzero(normals @ toward > 0) for _, _, _, normals, _ in looked]
    points = [spots[mine] + by for mine, (_, by, spots, _, _) in zip(facing, looked, strict=True)]
    hidden = front_at(solids, view).hidden(np.concatenate([np.zeros((0, 3)), *points]), OFF)
    areas, turned = [0.0] * len(solids), [0.0] * len(solids)
    ends = np.cumsum([len(mine) for mine in facing])[:-1]
    for (n, _, _, normals, weight), mine, behind in zip(looked, facing, np.split(hidden, ends), strict=True):
        seen = normals[mine[~behind]]
        areas[n] = weight * float((seen @ toward).sum())
        turned[n] = weight * float((seen[seen @ way >= cosine] @ toward).sum())
    return Glimpse(tuple(areas), tuple(turned))


@lru_cache(maxsize=256)
def _spots(solid: Solid) -> tuple[Floats, Floats, float]:
    """Points spread evenly over a surface (n,3), the unit normals there (n,3), and the area for which each stands."""
    vertices, triangles = solid.mesh
    corner = vertices[triangles]
    sizes = np.linalg.norm(np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]), axis=1) / 2
    ends = np.cumsum(sizes)
    count = np.arange(SPOTS) + 0.5
    which = np.searchsorted(ends, count / SPOTS * ends[-1]).clip(max=len(sizes) - 1)
    one, two = (count * step % 1.0 for step in _STEPS)
    out = one + two > 1.0
    one, two = np.where(out, 1.0 - one, one)[:, None], np.where(out, 1.0 - two, two)[:, None]
    a, b, c = (corner[which, k] for k in range(3))
    points: Floats = a + one * (b - a) + two * (c - a)
    return points, groups(solid).normals[which], float(ends[-1]) / SPOTS
