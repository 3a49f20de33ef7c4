"""Pieces pulled apart until something is seen of each; which ways they come free is found elsewhere."""

from collections.abc import Sequence
from itertools import product

import numpy as np

from planbook.drawing.glimpse import glimpse
from planbook.drawing.look import flat_all
from planbook.drawing.pulled_apart import gap_of, spread
from planbook.solids import Solid, Vec3
from planbook.solids.frames import plus
from planbook.solids.visible import View

WANTED = 0.3
"""A piece of which this share is seen needs no more room."""
FARTHER = (1, 2, 3, 4, 6)
"""So many gaps farther a piece is tried."""
SMALLER = 5.0
"""What the drawing loses by getting smaller, where losing one piece from sight is 1: for all of its scale."""
ROUNDS = 6
"""So many pieces are pulled farther at most."""


def in_sight(
    solids: Sequence[Solid], wholes: Sequence[str], view: View, width: float, height: float
) -> tuple[Vec3, ...]:
    """How far to move each solid, mm, so that they lie apart and are seen, where that does not make all much smaller.

    `wholes` says what is joined; the drawing is to fit into a room of this width and height, mm.
    """
    judge = _Judge(solids, view, width, height)
    more = [0.0] * len(solids)
    moves = spread(solids, wholes, more)
    shares, worth = judge.of(moves)
    for _ in range(ROUNDS):
        tries = [
            farther
            for n in np.argsort(shares, kind="stable").tolist()
            if shares[n] < WANTED
            for farther in _farther(n, solids, wholes, moves, more)
        ]
        judged = [(*judge.of(spread(solids, wholes, farther)), farther) for farther in tries]
        best = max(judged, key=lambda each: each[1], default=None)
        if best is None or best[1] <= worth + 0.05:
            break
        shares, worth, more = best
        moves = spread(solids, wholes, more)
    return moves


def _farther(
    n: int, solids: Sequence[Solid], wholes: Sequence[str], moves: Sequence[Vec3], more: Sequence[float]
) -> list[list[float]]:
    """A piece pulled farther, with those of its whole that go as far the same way: rows stay rows."""
    row = [k for k in range(len(solids)) if wholes[k] == wholes[n] and moves[k] == moves[n]]
    gap = gap_of(solids)
    return [[far + gap * times * (k in row) for k, far in enumerate(more)] for times in FARTHER]


class _Judge:
    """What is seen of each solid, as a share of what would be seen of it alone, and what a drawing is worth."""

    def __init__(self, solids: Sequence[Solid], view: View, width: float, height: float) -> None:
        self.solids, self.view, self.room = solids, view, (width, height)
        self.alone = [self._seen([solid], [(0.0, 0.0, 0.0)])[0] for solid in solids]
        self.least: float | None = None

    def of(self, moves: Sequence[Vec3]) -> tuple[list[float], float]:
        """The share that is seen of each, and the worth of all."""
        areas = self._seen(self.solids, moves)
        shares = [area / max(alone, 1e-9) for area, alone in zip(areas, self.alone, strict=True)]
        scale = self._scale(moves)
        self.least = scale if self.least is None else self.least
        worth = sum(min(1.0, share / WANTED) for share in shares) - SMALLER * max(0.0, 1.0 - scale / self.least)
        return shares, worth

    def _seen(self, solids: Sequence[Solid], moves: Sequence[Vec3]) -> tuple[float, ...]:
        pairs = list(zip(solids, moves, strict=True))
        return glimpse(pairs, self.view, range(len(pairs)), self.view.toward, 0.0).areas

    def _scale(self, moves: Sequence[Vec3]) -> float:
        """How large boxes of the moved solids can be drawn."""
        corners = [
            plus((x[0], y[1], z[2]), move)
            for solid, move in zip(self.solids, moves, strict=True)
            for x, y, z in product(solid.bounds, repeat=3)
        ]
        us, vs = zip(*flat_all(self.view, corners), strict=True)
        sides: list[float] = [max(us) - min(us), max(vs) - min(vs)]
        return min(room / max(side, 1e-6) for room, side in zip(self.room, sides, strict=True))
