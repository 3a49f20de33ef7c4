"""Remembers what each operation asked, what it was answered, and what it did, so that it need not be done again.

An operation is a function of what it asks of the shop. Every question is answered by a mapping (which piece is on
the bench, how long is a size, how wide is a kerf); in a remembered build the mappings note what they were asked.
If another build would answer all of it the same, the outcome is the same, and is taken from memory.
"""

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from planbook.solids import Solid, Vec3
from planbook.solids.plane import Area, Path
from planbook.workshop.shop import Outcome, Shop
from planbook.workshop.timeline import Member, Piece

V = TypeVar("V")
Log = dict[tuple[str, str | None], Any]
_ASKED = ("sizes", "shapes", "bench", "gone", "stuck_ever", "kerfs", "allowances")
_WHOLE = ("unknown", "clock", "parts")
_MISSING = object()
SAME = 2e-6
"""Corners of two solids closer than this (mm) are the same: twice the overlap of glued faces (`joints.SNUG`)."""
SAME_SHARE = 1e-7
"""Volumes and surfaces that differ by less than this share are the same."""
GLUE_LINE = 0.5
"""How far (mm) the line between two woods may lie elsewhere in a piece whose body is the same.

No fit hangs on it but through the seasons: half a millimetre of one wood swells by 3 thousandths more than of another.
"""


class Watched(Mapping[str, V], Generic[V]):
    """A mapping that notes in a log what it was asked and what it answered."""

    def __init__(self, name: str, held: Mapping[str, V], log: Log) -> None:
        self._name, self._held, self._log = name, held, log

    def __getitem__(self, key: str) -> V:
        found = self._held.get(key, _MISSING)
        self._log[self._name, key] = found
        if found is _MISSING:
            raise KeyError(key)
        return found  # type: ignore[return-value]

    def __iter__(self) -> Iterator[str]:
        self._log[self._name, None] = tuple(self._held)
        return iter(self._held)

    def __len__(self) -> int:
        return len(tuple(iter(self)))


@dataclass(frozen=True, eq=False, slots=True)
class Remembered:
    """What was done, and the questions and answers on which it rests."""

    log: Log
    done: Any


@dataclass(eq=False)
class Memory:
    """What the builds of one design have done so far. The first build is the nominal one: its clock is kept."""

    starts: list[float] = field(default_factory=list)
    recalled: int = 0
    _kept: dict[Hashable, list[Remembered]] = field(default_factory=dict)

    def recall(self, key: Hashable, shop: Shop) -> Any:
        """What was done under this key when the shop answered as it would now, or None."""
        for each in self._kept.get(key, ()):
            if all(_same_answer(answer, _asked(shop, *asked)) for asked, answer in each.log.items()):
                self.recalled += 1
                return each.done
        return None

    def keep(self, key: Hashable, log: Log, shop: Shop, done: Any) -> None:
        """Remember what was done."""
        whole: Log = {(name, None): getattr(shop, name) for name in _WHOLE}
        self._kept.setdefault(key, []).append(Remembered({**log, **whole}, done))

    def was_asked(self, name: str, key: str) -> bool:
        """Whether any operation asked a question of this name, such as the kerf of a saw."""
        return any((name, key) in each.log for kept in self._kept.values() for each in kept)

    def settled(self, key: Hashable, outcome: Outcome) -> Outcome:
        """The outcome, with every piece that came out the same as in an earlier build put in that one's place.

        Whatever is done with it afterwards need not be done again.
        """
        earlier = [each.done for each in self._kept.get(key, ())]
        made = tuple(self._known(piece, earlier) for piece in outcome.made)
        return replace(outcome, made=made)

    def _known(self, piece: Piece, earlier: list[Outcome]) -> Piece:
        for outcome in earlier:
            for other in outcome.made:
                if other.name == piece.name and same_piece(piece, other):
                    return other
        return piece


def watched(shop: Shop) -> tuple[Shop, Log]:
    """The shop with all its answers noted."""
    log: Log = {}
    asked: dict[str, Any] = {name: Watched(name, getattr(shop, name), log) for name in _ASKED}
    return replace(shop, **asked), log


def _asked(shop: Shop, name: str, key: str | None) -> Any:
    if name in _WHOLE:
        return getattr(shop, name)
    held: Mapping[str, Any] = getattr(shop, name)
    return tuple(held) if key is None else held.get(key, _MISSING)


def _same_answer(then: Any, now: Any) -> bool:
    if then is now:
        return True
    if isinstance(then, Piece):
        return False
    if isinstance(then, Area | Path):
        return isinstance(now, Area | Path) and then.same_as(now)
    return bool(then == now)


def same_piece(a: Piece, b: Piece) -> bool:
    """Whether two pieces of the same moment are the same: body, woods, stencils; treated areas follow from these."""
    return (
        close(a.solid.bounds, b.solid.bounds, SAME)
        and a.sources == b.sources
        and abs(a.wet - b.wet) < SAME
        and len(a.members) == len(b.members)
        and all(_same_member(m, n) for m, n in zip(a.members, b.members, strict=True))
        and _same_stencils(a, b)
        and [(t.face, t.how) for t in a.treated] == [(t.face, t.how) for t in b.treated]
        and same_solid(a.solid, b.solid)
    )


def close(a: Iterable[Vec3], b: Iterable[Vec3], by: float) -> bool:
    """Whether points are within a distance of one another along every axis."""
    return all(abs(p - q) <= by for first, second in zip(a, b, strict=True) for p, q in zip(first, second, strict=True))


def _same_member(a: Member, b: Member) -> bool:
    if a is b:
        return True
    if (a.stock, a.wood, a.grain) != (b.stock, b.wood, b.grain):
        return False
    return close(a.box, b.box, GLUE_LINE)


def _same_stencils(a: Piece, b: Piece) -> bool:
    if len(a.stuck) != len(b.stuck):
        return False
    return all(
        s.stencil == t.stencil
        and close((s.frame.origin, s.frame.u, s.frame.v), (t.frame.origin, t.frame.u, t.frame.v), SAME)
        and (s.holes, s.regions) == (t.holes, t.regions)
        and s.lines.keys() == t.lines.keys()
        and all(s.lines[name].same_as(t.lines[name]) for name in s.lines)
        for s, t in zip(a.stuck, b.stuck, strict=True)
    )


def same_solid(a: Solid, b: Solid) -> bool:
    """Whether two solids have the same corners, volume and surface; how flat faces are cut up does not matter."""
    if a is b:
        return True
    if not close(a.bounds, b.bounds, SAME) or abs(a.volume - b.volume) > SAME_SHARE * a.volume:
        return False
    first, second = _corners(a), _corners(b)
    return (
        first.shape == second.shape
        and np.allclose(first, second, rtol=0.0, atol=SAME)
        and abs(a.surface - b.surface) <= SAME_SHARE * a.surface
    )


def _corners(solid: Solid) -> NDArray[np.float64]:
    """The corners in an order of their own."""
    found = np.unique(solid.mesh[0].round(5), axis=0, return_index=True)[1]
    return solid.mesh[0][found]
