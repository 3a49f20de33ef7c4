"""Fills one length as well as it can be: exact sums of bounded counts (not the choice of how many bars)."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]
Reals = npt.NDArray[np.float64]

COARSE = 20_000
"""Longest capacity a table is made for; longer ones are put on a coarser grid (see `grid`)."""


def grid(length: int, sizes: Sequence[int], up: bool = False) -> tuple[int, list[int]]:
    """Return a capacity of at most `COARSE` and sizes on it; any units, exact where they already fit.

    Rounded down, everything that fits in the length still fits on the grid (a relaxation: good for
    bounds). Rounded up, everything that fits on the grid fits in the length (good for layouts).
    """
    if length <= COARSE:
        return length, list(sizes)
    if up:
        return COARSE, [-(-size * COARSE // length) for size in sizes]
    return COARSE, [size * COARSE // length for size in sizes]


class Fill:
    """The most valuable choice of bounded counts of sizes that fits in one capacity (plain whole numbers)."""

    def __init__(self, capacity: int, sizes: Sequence[int], most: Sequence[int]) -> None:
        self.capacity, self.sizes = capacity, tuple(sizes)
        lots: list[tuple[int, int]] = []
        for kind, (size, limit) in enumerate(zip(sizes, most, strict=True)):
            left = min(limit, capacity // size) if size > 0 else limit
            lot = 1
            while left > 0:
                take = min(lot, left)
                lots.append((kind, take))
                left -= take
                lot *= 2
        self.lots = tuple(lots)

    def best(self, worth: Reals) -> tuple[float, list[int]]:
        """Return the greatest total worth and the count of each size that reaches it."""
        best = np.zeros(self.capacity + 1)
        taken: list[tuple[int, int, int, npt.NDArray[np.bool_]]] = []
        for kind, lot in self.lots:
            gain, size = float(worth[kind]) * lot, self.sizes[kind] * lot
            if gain <= 0 or size > self.capacity:
                continue
            offer = best[: self.capacity + 1 - size] + gain
            better = offer > best[size:] + 1e-12
            np.copyto(best[size:], offer, where=better)
            taken.append((kind, lot, size, better))
        counts, room = [0] * len(self.sizes), self.capacity
        for kind, lot, size, better in reversed(taken):
            if room >= size and better[room - size]:
                counts[kind] += lot
                room -= size
        return float(best[self.capacity]), counts

    def most(self, worth: Sequence[int]) -> int:
        """Return the greatest total of whole worths, exactly (they must add up to less than 2**62)."""
        best = np.zeros(self.capacity + 1, dtype=np.int64)
        for kind, lot in self.lots:
            gain, size = worth[kind] * lot, self.sizes[kind] * lot
            if gain > 0 and size <= self.capacity:
                best[size:] = np.maximum(best[size:], best[: self.capacity + 1 - size] + gain)
        return int(best[self.capacity])
