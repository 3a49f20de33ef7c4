"""Measures what must hold when the work is done: gaps, walls, steps and motions; judges nothing.

Pieces that are joined for good no longer exist in the end; a fit between them is measured just before they are.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from math import hypot, radians

import numpy as np

from planbook.model import Fit, Node
from planbook.solids import AXES, FACE_FRAMES, Solid, Vec3
from planbook.solids.frames import negated, plus, times
from planbook.solids.nearest import meeting_point
from planbook.units import UnitProblem, parse_formula
from planbook.workshop.memory import Memory, watched
from planbook.workshop.motions import SEARCH, Obstacle, clearance, narrowest
from planbook.workshop.seasons import Swelling, held_at
from planbook.workshop.shop import Shop
from planbook.workshop.snags import Snag, snag
from planbook.workshop.thickness import gaps_along, point_of, thinnest
from planbook.workshop.timeline import At, Fitted, Piece, Trouble, Way


@dataclass(frozen=True)
class _Asked:
    """One fit with what it needs to be measured."""

    fit: Fit
    shop: Shop
    swelling: Swelling
    pointed: bool

    def piece(self, node: Node) -> Piece:
        return self.shop.piece(str(node.value), node.place)

    def pieces(self, field: str) -> list[Piece]:
        node = self.fit.fields[field]
        return [self.piece(item) for item in (node.value if isinstance(node.value, tuple) else (node,))]

    @cached_property
    def middle(self) -> Vec3:
        """What stays where it is when wood swells: the middle of the piece that moves, or where two hold each other."""
        if "piece" in self.fit.fields:
            return self.piece(self.fit.fields["piece"]).solid.middle
        first, second = self.pieces("between")
        return held_at(first.solid, second.solid)

    def solid(self, piece: Piece) -> Solid:
        """A piece's solid at this moisture."""
        return self.swelling.of(piece, self.middle) if self.swelling.points else piece.solid

    @property
    def moving(self) -> str:
        """The name of the piece that moves."""
        return str(self.fit.fields["piece"].value)

    def mover(self) -> Solid:
        return self.solid(self.piece(self.fit.fields["piece"]))

    def pair(self) -> tuple[Solid, Solid]:
        first, second = self.pieces("between")
        return self.solid(first), self.solid(second)

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

    def others(self) -> list[Obstacle]:
        """What stands in the way of the piece that moves: the pieces named, or all others."""
        pieces = self.pieces("past") if "past" in self.fit.fields else list(self.shop.bench.values())
        return [Obstacle(p.name, self.solid(p)) for p in pieces if p.name != self.moving]

    def found(
        self,
        least: float | None,
        most: float | None = None,
        where: Vec3 | None = None,
        stage: str = "",
        touches: str = "",
    ) -> Fitted:
        high = self.asked("most")
        return Fitted(
            self.fit.name,
            self.fit.kind,
            least,
            most,
            where,
            stage,
            self.asked("least"),
            self.asked("within") if high is None else high,
            touches,
        )


AS_BUILT = Swelling(0.0)


def measure_fits(
    shop: Shop, memory: Memory | None = None, pointed: bool = True
) -> tuple[tuple[Fitted, ...], tuple[Trouble, ...]]:
    """Every fit of the design measured on the finished pieces, and what kept others from being measured."""
    fitted: list[Fitted] = []
    troubles: list[Trouble] = []
    for fit in shop.design.fits.values():
        try:
            fitted.append(measure_fit(fit, shop, AS_BUILT, memory, pointed))
        except Snag as found:
            troubles.extend(found.troubles)
    return tuple(fitted), tuple(troubles)


def measure_fit(fit: Fit, shop: Shop, swelling: Swelling, memory: Memory | None = None, pointed: bool = True) -> Fitted:
    """One fit at one moisture, from memory where it was measured on the same pieces. Raises Snag.

    `pointed` asks for the point where it is narrowest, which takes as long to find as the gap itself.
    """
    shop, before = _when(fit, shop)
    found = _measured(fit, shop, swelling, memory, pointed)
    return replace(found, before=before) if before else found


def _when(fit: Fit, shop: Shop) -> tuple[Shop, At | None]:
    """The shop as it was when a fit can be measured: at the end, or just before the first of its pieces was joined.

    Where its pieces never lie on the bench together, it is the end, and what is missing there is said.
    """
    names = _names(fit)
    moments = [shop.joined[name] for name in names if name not in shop.bench and name in shop.joined]
    first = min(moments, key=lambda moment: moment.number, default=None)
    if first is None or not all(name in first.bench for name in names):
        return shop, None
    return replace(shop, bench=first.bench), first.at


def _names(fit: Fit) -> list[str]:
    """The pieces that a fit names."""
    nodes = [fit.fields[field] for field in ("piece", "between", "past") if field in fit.fields]
    return [str(each.value) for node in nodes for each in (node.value if isinstance(node.value, tuple) else (node,))]


def _measured(fit: Fit, shop: Shop, swelling: Swelling, memory: Memory | None, pointed: bool) -> Fitted:
    if memory is None:
        return _KINDS[fit.kind](_Asked(fit, shop, swelling, pointed))
    key = ("fit", fit.name, swelling.points, pointed)
    recalled: Fitted | None = memory.recall(key, shop)
    if recalled is not None:
        return recalled
    asking, log = watched(shop)
    measured = _KINDS[fit.kind](_Asked(fit, asking, swelling, pointed))
    memory.keep(key, log, shop, measured)
    return measured


def _gap(asked: _Asked) -> Fitted:
    first, second = asked.pair()
    touches = asked.pieces("between")[1].name
    if "along" not in asked.fit.fields:
        gap = clearance(first, second)
        pointed = asked.pointed and gap < SEARCH
        return asked.found(gap, gap, meeting_point(first, second, gap) if pointed else None, "", touches)
    way = AXES[str(asked.fit.fields["along"].value)]
    gaps = gaps_along(first, second, way)
    if not gaps:
        return asked.found(SEARCH, SEARCH)
    least, where = min(gaps)
    return asked.found(least, max(gap for gap, _ in gaps), where, "", touches)


def _wall(asked: _Asked) -> Fitted:
    """The least thickness: rays from the middle of every facet into the wood, to the surface on the other side.

    A surface that is turned by more than 60 degrees from the facet's is a corner, not the other side of a wall. Walls
    are looked for in the piece as it was built, and each is then stretched: through the year the boards of a
    lamination part by a hair where they meet, and a narrow facet across them would look anywhere.
    """
    piece = asked.piece(asked.fit.fields["piece"])
    walls = thinnest(piece.solid)
    if not walls:
        return asked.found(SEARCH * 4, SEARCH * 4)
    starts, ends = (np.asarray(each) for each in zip(*walls, strict=True))
    starts, ends = (asked.swelling.places(piece, each, asked.middle) for each in (starts, ends))
    thick = np.linalg.norm(ends - starts, axis=1)
    best = int(thick.argmin())
    return asked.found(float(thick[best]), float(thick[best]), point_of(starts[best]))


def _slide(asked: _Asked) -> Fitted:
    solid, along = asked.mover(), asked.vector("along")
    return _motion(asked, lambda share: solid.moved(times(along, share)), hypot(*along), Way(asked.moving, along))


def _swing(asked: _Asked) -> Fitted:
    solid = asked.mover()
    about, axis = asked.vector("about"), AXES[str(asked.fit.fields["axis"].value)]
    angle = asked.number(asked.fit.fields["angle"])
    arm = max(hypot(*plus(point_of(corner), negated(about))) for corner in solid.mesh[0])
    way = Way(asked.moving, axis=axis, about=about, degrees=angle)
    return _motion(asked, lambda share: solid.turned(axis, angle * share, about), arm * radians(abs(angle)), way)


def _lift_out(asked: _Asked) -> Fitted:
    """A piece drawn straight out until it is past everything else.

    What is wholly behind it is left out: it may rest on that. It may also rest on a ledge of what it lies in; so it
    is looked at from where it is as far out as the room that is asked for, and no more than that is measured there.
    """
    solid = asked.mover()
    toward = asked.fit.fields.get("toward")
    normal = FACE_FRAMES[str(toward.value) if toward else "top"].n
    behind = -solid.reach(negated(normal)) + RISE
    others = [other for other in asked.others() if other.solid.reach(normal) > behind]
    rise = (asked.asked("least") or 0.0) + RISE
    far = max((other.solid.reach(normal) for other in others), default=0.0) + solid.reach(negated(normal)) + rise
    far = max(far, 2 * rise)
    way = Way(asked.moving, times(normal, far))
    return _motion(asked, lambda share: solid.moved(times(normal, far * share)), far, way, rise / far, others)


RISE = 1e-3
"""How much further (mm) than the room asked for a piece is lifted before its gaps are looked at."""


def _motion(
    asked: _Asked,
    at: Callable[[float], Solid],
    travel: float,
    way: Way,
    start: float = 0.0,
    others: list[Obstacle] | None = None,
) -> Fitted:
    """The smallest gap to everything else along a motion: at which share of the way, where, and to what."""
    others = asked.others() if others is None else others
    if not others:
        return replace(asked.found(SEARCH, None), way=way)
    found = narrowest(at, others, travel, start, asked.pointed)
    least = asked.found(found.gap, None, found.where, f"{round(100 * found.share)} %", found.touches)
    return replace(least, way=way)


def _flush(asked: _Asked) -> Fitted:
    first, second = asked.pair()
    normal = FACE_FRAMES[str(asked.fit.fields["face"].value)].n
    return asked.found(None, abs(first.reach(normal) - second.reach(normal)))


def _reveal(asked: _Asked) -> Fitted:
    """How far the second piece's largest flat face on a side stands behind the first's.

    The largest face counts and not the outermost point, so that a knob on a drawer is not taken for its front.
    """
    first, second = asked.pair()
    normal = FACE_FRAMES[str(asked.fit.fields["face"].value)].n
    levels = [solid.reach(normal) if (flat := solid.flat(normal)) is None else flat for solid in (first, second)]
    return asked.found(levels[0] - levels[1], levels[0] - levels[1])


_KINDS: dict[str, Callable[[_Asked], Fitted]] = {
    "gap": _gap,
    "wall": _wall,
    "slide": _slide,
    "swing": _swing,
    "lift out": _lift_out,
    "flush": _flush,
    "reveal": _reveal,
}
