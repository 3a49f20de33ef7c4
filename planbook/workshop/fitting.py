"""Measures what must hold when the work is done: gaps, walls, and motions along their way; judges nothing."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planbook.model import Fit, Node
from planbook.solids import AXES, FACE_FRAMES, Solid, Vec3
from planbook.solids.frames import negated, times
from planbook.solids.solid import joined
from planbook.units import UnitProblem, parse_formula
from planbook.workshop.shop import Shop
from planbook.workshop.snags import Snag, snag
from planbook.workshop.timeline import Fitted, Piece, Trouble

SEARCH = 50.0
"""Gaps beyond this are not told apart, mm."""
STAGES = 24
"""Positions looked at along a motion, besides its start."""


@dataclass(frozen=True)
class _Asked:
    """One fit with what it needs to be measured."""

    fit: Fit
    shop: Shop
    bench: Mapping[str, Piece]

    def piece(self, node: Node) -> Piece:
        return self.shop.piece(str(node.value), node.place)

    def pieces(self, field: str) -> list[Piece]:
        node = self.fit.fields[field]
        return [self.piece(item) for item in (node.value if isinstance(node.value, tuple) else (node,))]

    def number(self, node: Node) -> float:
        try:
            return float(self.shop.compute(parse_formula(str(node.value))).value)
        except UnitProblem as problem:
            where = node.place.within(problem.offset, problem.length)
            raise snag("bad-formula", where, 0, problem=problem.kind, message=problem.message) from None

    def asked(self, field: str) -> float | None:
        return self.number(self.fit.fields[field]) if field in self.fit.fields else None

    def vector(self, field: str) -> Vec3:
        node = self.fit.fields[field]
        x, y, z = (self.number(item) for item in (node.value if isinstance(node.value, tuple) else ()))
        return (x, y, z)

    def others(self, mover: Piece) -> list[Piece]:
        if "past" in self.fit.fields:
            return self.pieces("past")
        return [p for p in self.bench.values() if p.name != mover.name]

    def found(
        self, least: float | None, most: float | None = None, where: Vec3 | None = None, stage: str = ""
    ) -> Fitted:
        return Fitted(
            self.fit.name,
            self.fit.kind,
            least,
            most,
            where,
            stage,
            self.asked("least") or self.asked("within"),
            self.asked("most"),
        )


def measure_fits(shop: Shop, bench: Mapping[str, Piece]) -> tuple[tuple[Fitted, ...], tuple[Trouble, ...]]:
    """Every fit of the design measured on the finished pieces, and what kept others from being measured."""
    fitted: list[Fitted] = []
    troubles: list[Trouble] = []
    for fit in shop.design.fits.values():
        try:
            fitted.append(_KINDS[fit.kind](_Asked(fit, shop, bench)))
        except Snag as found:
            troubles.extend(found.troubles)
    return tuple(fitted), tuple(troubles)


def _gap(asked: _Asked) -> Fitted:
    first, second = asked.pieces("between")
    if "along" not in asked.fit.fields:
        gap = _clearance(first.solid, second.solid)
        return asked.found(gap, gap)
    way = AXES[str(asked.fit.fields["along"].value)]
    gaps = _gaps_along(first.solid, second.solid, way)
    return asked.found(min(gaps), max(gaps)) if gaps else asked.found(SEARCH, SEARCH)


def _clearance(a: Solid, b: Solid) -> float:
    """The gap between two solids in mm; negative (by how thick the overlap is) where they overlap."""
    for reach in (2.0, 10.0, SEARCH):
        gap = a.gap(b, reach)
        if gap < reach:
            break
    if gap > 0:
        return gap
    shared = a.meet(b)
    return -min(shared.extent) if shared.volume > 1e-3 else 0.0


def _gaps_along(a: Solid, b: Solid, way: Vec3) -> list[float]:
    """Distances along an axis from one solid's corners to the other, both ways."""
    found: list[float] = []
    for solid, other in ((a, b), (b, a)):
        for sign in (way, negated(way)):
            for corner in np.unique(solid.mesh[0].round(6), axis=0):
                gap = _gap_from(_point(corner), sign, solid, other)
                if gap is not None:
                    found.append(gap)
    return found


def _gap_from(corner: Vec3, way: Vec3, solid: Solid, other: Solid) -> float | None:
    """The air between a corner of a solid and another along a way, or None where there is none.

    A ray that runs along a surface says nothing about what it passes; so four rays a hair beside it are asked too.
    """
    start, end = _nudged(corner, way), _nudged(corner, way, SEARCH)
    straight = other.hits(corner, end)[:1]
    if not straight or solid.hits(start, end):
        return None
    across = [axis for axis in AXES.values() if not np.dot(axis, way)]
    beside = [side for axis in across for side in (axis, negated(axis))]
    far = min(straight + [hit for side in beside for hit in other.hits(_nudged(corner, side), _nudged(end, side))[:1]])
    own = [hit for side in beside for hit in solid.hits(_nudged(start, side), _nudged(end, side))[:1]]
    blocked = any(hit < far - 1e-3 for hit in own)
    return None if blocked else far


def _nudged(point: Vec3, way: Vec3, by: float = 1e-4) -> Vec3:
    return (point[0] + way[0] * by, point[1] + way[1] * by, point[2] + way[2] * by)


def _wall(asked: _Asked) -> Fitted:
    """The least thickness: rays from the middle of every facet into the wood, to the surface on the other side.

    A surface that is turned by more than 60 degrees from the facet's is a corner, not the other side of a wall.
    """
    piece = asked.piece(asked.fit.fields["piece"])
    vertices, triangles = piece.solid.mesh
    a, b, c = (vertices[triangles[:, i]] for i in range(3))
    normals = np.cross(b - a, c - a)
    sizes = np.linalg.norm(normals, axis=1)
    best, where = SEARCH * 4, None
    for spot, normal, size in zip((a + b + c) / 3, normals, sizes, strict=True):
        if size < 0.5:
            continue
        inward = -normal / size
        start, end = spot + inward * 1e-3, spot + inward * SEARCH * 4
        crossings = piece.solid.walls(_point(start), _point(end))
        if crossings and float(np.dot(crossings[0][1], inward)) > 0.5 and crossings[0][0] + 1e-3 < best:
            best, where = crossings[0][0] + 1e-3, _point(spot)
    return asked.found(best, best, where)


def _point(array: NDArray[np.float64]) -> Vec3:
    return (float(array[0]), float(array[1]), float(array[2]))


def _slide(asked: _Asked) -> Fitted:
    piece = asked.piece(asked.fit.fields["piece"])
    along = asked.vector("along")
    return _motion(asked, piece, lambda share: piece.solid.moved(times(along, share)))


def _swing(asked: _Asked) -> Fitted:
    piece = asked.piece(asked.fit.fields["piece"])
    about, axis = asked.vector("about"), AXES[str(asked.fit.fields["axis"].value)]
    angle = asked.number(asked.fit.fields["angle"])
    return _motion(asked, piece, lambda share: piece.solid.turned(axis, angle * share, about))


def _motion(asked: _Asked, piece: Piece, at: Callable[[float], Solid]) -> Fitted:
    """The smallest gap to everything else along a motion, and at which share of the way."""
    others = asked.others(piece)
    if not others:
        return asked.found(SEARCH, SEARCH)
    rest = joined([p.solid for p in others])
    gaps = [(_clearance(at(i / STAGES), rest), i) for i in range(STAGES + 1)]
    least, stage = min(gaps)
    return asked.found(least, max(g for g, _ in gaps), None, f"{round(100 * stage / STAGES)} %")


def _flush(asked: _Asked) -> Fitted:
    first, second = asked.pieces("between")
    normal = FACE_FRAMES[str(asked.fit.fields["face"].value)].n
    step = abs(first.solid.reach(normal) - second.solid.reach(normal))
    return asked.found(None, step)


_KINDS: dict[str, Callable[[_Asked], Fitted]] = {
    "gap": _gap,
    "wall": _wall,
    "slide": _slide,
    "swing": _swing,
    "flush": _flush,
}
