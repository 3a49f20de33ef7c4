"""Least cost of bars when fractions of a bar are allowed, with a bound that is proved exactly (no layout).

The method is that of Gilmore and Gomory (Operations Research 9, 1961, and 11, 1963); the bound is Farley's
(Operations Research 38, 1990), taken in whole numbers so that no rounding can make it too large.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from planbook.takeoff.layout.knapsack import Fill, Reals, grid

MAX_ROUNDS = 600
_SCALE = 1 << 30


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars to cut: `sizes` with how many are wanted (`demand`) and how many one bar may hold (`most`).

    `stock` is (length, price) in whole units; `demand` may be larger than `most` (slices of flat parts).
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    most: tuple[int, ...]
    stock: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One way to cut one bar: the stock and the count of each size."""

    stock: int
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The bound (a cost), the whole-number worth of each size that proves it, and the columns in use."""

    bound: Fraction
    worth: tuple[int, ...]
    columns: tuple[tuple[Column, float], ...]
    rounds: int = 0


def relax(
    bars: Bars,
    enough: int | None = None,
    rounds: int = MAX_ROUNDS,
    up: bool = False,
    known: Sequence[Column] = (),
) -> Relaxed:
    """Solve the relaxation; stop early once the bound is above `enough - 1` (a cost already reached).

    Every size must fit in some stock. With `up` the columns are certain to fit and the bound is not one.
    Columns are asked for at worths drawn towards the best ones so far, which needs far fewer of them;
    `known` columns are there from the start.
    """
    fills = tuple(Fill(*_gridded(length, bars, up)) for length, _ in bars.stock)
    master = _Master(bars, up)
    for column in dict.fromkeys(known):
        if any(column.counts):
            master.add(column)
    middle = _by_size(bars)
    best = _proved(bars, fills, middle)
    spent = 0
    while spent < rounds:
        spent += 1
        worth = master.settle()
        if best.bound > master.total() - 1e-9 or (enough is not None and best.bound > enough - 1):
            break
        asked, found = worth, None
        for pull in (0.8, 0.0):
            asked = pull * middle + (1 - pull) * worth
            values = [fill.best(asked) for fill in fills]
            least = min((bars.stock[n][1] / value for n, (value, _) in enumerate(values) if value > 0), default=0.0)
            bound = least * float(asked @ master.demand)
            if bound > float(best.bound) + 1e-9:
                best, middle = _better(best, _proved(bars, fills, asked)), asked * least
            found = max(
                (float(worth @ np.array(counts)) - bars.stock[n][1], -n, counts) for n, (_, counts) in enumerate(values)
            )
            if found[0] > 1e-9 * (1 + bars.stock[-found[1]][1]):
                master.add(Column(-found[1], tuple(found[2])))
                break
        else:
            break
    return Relaxed(best.bound, best.worth, master.used(), spent)


class _Master:
    """The small linear problem over the columns known so far, kept as a basis and its inverse."""

    def __init__(self, bars: Bars, up: bool) -> None:
        self.bars = bars
        self.demand: Reals = np.array(bars.demand, dtype=float)
        self.pool = [_single(bars, kind, up) for kind in range(len(bars.sizes))]
        self.counts: Reals = np.array([column.counts for column in self.pool], dtype=float)
        self.prices: Reals = np.array([bars.stock[column.stock][1] for column in self.pool], dtype=float)
        self.basis = list(range(len(self.pool)))
        self.inverse: Reals = _inverse(self.counts)
        self.amounts: Reals = self.inverse @ self.demand
        self.pivots = 0

    def total(self) -> float:
        return float(self.prices[self.basis] @ self.amounts)

    def add(self, column: Column) -> None:
        self.pool.append(column)
        self.counts = np.vstack([self.counts, np.array(column.counts, dtype=float)])
        self.prices = np.append(self.prices, float(self.bars.stock[column.stock][1]))

    def settle(self) -> Reals:
        """Exchange columns until none in the pool helps; returns the worth of each size."""
        for _ in range(200):
            worth = self.prices[self.basis] @ self.inverse
            gains = self.counts @ worth - self.prices
            entering = int(np.argmax(gains))
            if gains[entering] <= 1e-9 * (1 + self.prices[entering]) or not self._exchange(entering):
                break
        return np.asarray(np.maximum(self.prices[self.basis] @ self.inverse, 0.0))

    def _exchange(self, entering: int) -> bool:
        way = self.inverse @ self.counts[entering]
        limits = np.full(len(way), np.inf)
        np.divide(self.amounts, way, out=limits, where=way > 1e-9)
        leaving = int(np.argmin(limits))
        if not np.isfinite(limits[leaving]):
            return False
        self.basis[leaving] = entering
        _pivot(self.inverse, self.amounts, way, leaving)
        self.pivots += 1
        if self.pivots % 60 == 0:
            self.inverse = _inverse(self.counts[self.basis])
            self.amounts = np.maximum(self.inverse @ self.demand, 0.0)
        return True

    def used(self) -> tuple[tuple[Column, float], ...]:
        return tuple((self.pool[n], float(amount)) for n, amount in zip(self.basis, self.amounts, strict=True))


def _inverse(columns: Reals) -> Reals:
    return np.asarray(np.linalg.inv(columns.T), dtype=np.float64)


def _by_size(bars: Bars) -> Reals:
    """Worths in proportion to size, which no bar can beat: the bound by total length."""
    rate = min(price / length for length, price in bars.stock)
    return np.array([size * rate for size in bars.sizes], dtype=float)


def _gridded(length: int, bars: Bars, up: bool) -> tuple[int, list[int], tuple[int, ...]]:
    capacity, sizes = grid(length, bars.sizes, up)
    most = tuple(m if size <= length else 0 for m, size in zip(bars.most, bars.sizes, strict=True))
    return capacity, sizes, most


def _single(bars: Bars, kind: int, up: bool) -> Column:
    """Bars of one size only, from the stock that gives each for the least money."""
    size, most = bars.sizes[kind], bars.most[kind]
    ways = []
    for number, (length, price) in enumerate(bars.stock):
        count = min(length // size, most)
        if count > 0:
            ways.append((Fraction(price, count), number, count))
    _, number, count = min(ways)
    counts = [0] * len(bars.sizes)
    counts[kind] = count
    return Column(number, tuple(counts))


def _proved(bars: Bars, fills: Sequence[Fill], worth: Reals) -> Relaxed:
    """The bound that whole-number worths prove: no bar holds more worth than its fill says."""
    largest = float(worth.max(initial=0.0))
    if largest <= 0:
        return Relaxed(Fraction(0), (0,) * len(bars.sizes), ())
    whole = tuple(max(0, int(value / largest * _SCALE)) for value in worth)
    total = sum(w * d for w, d in zip(whole, bars.demand, strict=True))
    rates = []
    for (_, price), fill in zip(bars.stock, fills, strict=True):
        held = fill.most(whole)
        if held > 0:
            rates.append(Fraction(price, held))
    return Relaxed(total * min(rates) if rates else Fraction(0), whole, ())


def _better(one: Relaxed, other: Relaxed) -> Relaxed:
    return other if other.bound > one.bound else one


def _pivot(inverse: Reals, amounts: Reals, way: Reals, leaving: int) -> None:
    step = amounts[leaving] / way[leaving]
    amounts -= step * way
    amounts[leaving] = step
    np.maximum(amounts, 0.0, out=amounts)
    row = inverse[leaving] / way[leaving]
    inverse -= np.outer(way, row)
    inverse[leaving] = row
