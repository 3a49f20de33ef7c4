"""Solids with very many triangles made coarser for a picture, so that every picture takes a bounded time."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from planbook.solids import Solid
from planbook.solids.solid import block

MOST = 15_000
"""A picture is drawn from at most this many triangles; an object made of wood has about 10,000."""
LEFT = 10_000
"""Where there are more, so many are left: a rough surface takes ten times as long as a smooth one."""
FINE = 1 / 2000
"""The first try to do with fewer, as a share of the largest side of all that is shown: a twentieth of a mm on paper."""
UNSEEN = 2
"""How often that may be doubled and still not be seen."""
TIMES = 8
"""How often it may be doubled at all. What still has too many triangles then is drawn as the box that it fills."""


@dataclass(frozen=True, slots=True)
class Coarse:
    """Solids for a picture, and by how much their surfaces may lie from the true ones, mm; 0 if they are the true ones.

    `seen` says that this can be seen on paper.
    """

    solids: tuple[Solid, ...]
    off: float = 0.0
    seen: bool = False


@lru_cache(maxsize=64)
def coarse(solids: tuple[Solid, ...]) -> Coarse:
    """The solids themselves, or coarser ones where together they have more than `MOST` triangles."""
    if _many(solids) <= MOST:
        return Coarse(solids)
    off = FINE * max(side for solid in solids for side in solid.extent)
    coarser = solids
    for doubled in range(TIMES):
        coarser = tuple(_smaller(solid, off * 2**doubled) for solid in coarser)
        if _many(coarser) <= LEFT:
            return Coarse(coarser, off * 2**doubled, seen=doubled > UNSEEN)
    return Coarse(_boxes(coarser), off * 2**TIMES, seen=True)


def _many(solids: Sequence[Solid]) -> int:
    return sum(len(solid.mesh[1]) for solid in solids)


def _smaller(solid: Solid, off: float) -> Solid:
    """The solid without corners that matter less than `off` mm; one that would vanish stays as it is."""
    found = solid.coarser(off)
    return solid if found.empty else found


def _boxes(solids: Sequence[Solid]) -> tuple[Solid, ...]:
    """Those with the most triangles as boxes, until there are few enough."""
    found = list(solids)
    for n in sorted(range(len(found)), key=lambda n: -len(found[n].mesh[1])):
        if _many(found) <= LEFT:
            break
        found[n] = block(*found[n].bounds)
    return tuple(found)
