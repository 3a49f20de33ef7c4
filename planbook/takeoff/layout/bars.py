"""Finds a layout of lengths on bars: the relaxation gives the bound, diving and refilling the layout."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd
from random import Random

from planbook.takeoff.layout.clock import Clock
from planbook.takeoff.layout.knapsack import COARSE
from planbook.takeoff.layout.relax import Bars, Column, relax

_TRIALS = 1_500
_DIVES = 400
_STARTS = 30
_WORK = 150_000
"""How much the relaxations may ask for: sizes looked at, more for long bars."""
_LOOKED_AT = 400
_MOST_SIZES = 300


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar to buy, in whole units with one kerf: length, price, how many there are."""

    length: int
    price: int
    count: int | None


@dataclass(slots=True)
class Filled:
    """A bar and the sizes cut from it."""

    stock: int
    sizes: list[int]


@dataclass(frozen=True, slots=True)
class Rods:
    """The layout: bars with their sizes, the sizes for which there was no bar, its cost and the bound."""

    bars: tuple[Filled, ...]
    lost: tuple[int, ...]
    cost: int
    bound: int


def solve_bars(sizes: Sequence[int], bars: Sequence[Bar], seconds: float | None = None) -> Rods:
    """Lay out sizes (with their kerf, any units) on bars; every size fits some bar."""
    clock, search = Clock(seconds), _Search(bars)
    best = search.fill_all(sorted(sizes, reverse=True), [bar.count for bar in bars])
    bound = _round(_by_length(sizes, bars), bars)
    kinds = sorted(set(sizes), reverse=True)
    if best.lost or best.cost > bound:
        columns: list[Column] = []
        if len(kinds) <= _MOST_SIZES and all(bar.price > 0 for bar in bars):
            demand = tuple(sizes.count(size) for size in kinds)
            table = Bars(tuple(kinds), demand, demand, tuple((bar.length, bar.price) for bar in bars))
            enough = best.cost if not best.lost else None
            relaxed = relax(table, enough)
            search.spend(len(kinds), relaxed.rounds)
            columns = [column for column, _ in relaxed.columns]
            bound = max(bound, _round(relaxed.bound, bars))
            if best.lost or best.cost > bound:
                for turn in range(_STARTS):
                    best = _better(best, search.dive(table, columns, best, turn > 0, clock))
                    if not best.lost and best.cost <= bound:
                        break
        best = search.refill(best, bound, clock)
    return Rods(best.bars, best.lost, best.cost, bound)


def _by_length(sizes: Sequence[int], bars: Sequence[Bar]) -> Fraction:
    """The cost of the total length, cheapest bars for their length first, as far as there are any."""
    return least_cover(sum(sizes), [(bar.length, bar.price, bar.count) for bar in bars])


def least_cover(amount: int, stock: Sequence[tuple[int, int, int | None]]) -> Fraction:
    """The least cost of an amount from stock of (size, price, count) when parts of a stock may be bought."""
    cost, left = Fraction(0), amount
    for size, price, count in sorted(stock, key=lambda row: Fraction(row[1], row[0])):
        take = left if count is None else min(left, size * count)
        cost += Fraction(take * price, size)
        left -= take
    return cost


def _round(bound: Fraction, bars: Sequence[Bar]) -> int:
    step = gcd(*(bar.price for bar in bars)) or 1
    return ceil(bound / step) * step


def _better(one: Rods, other: Rods) -> Rods:
    return other if (sum(other.lost), other.cost) < (sum(one.lost), one.cost) else one


class _Search:
    """The bars to buy, and the ways to fill them."""

    def __init__(self, bars: Sequence[Bar]) -> None:
        self.bars, self.rnd, self.work = tuple(bars), Random(1), 0.0

    def spend(self, kinds: int, rounds: int) -> None:
        """Note the work of one relaxation."""
        self.work += rounds * sum(kinds**2 / 100 * (1 + min(bar.length, COARSE) / 4000) + 30 for bar in self.bars)

    def fill_all(self, sizes: Sequence[int], room: Sequence[int | None], chance: float = 0.0) -> Rods:
        """Fill bar after bar, each with the longest size left and as full as can be; the best price wins."""
        left, open_room, filled = sorted(sizes, reverse=True), list(room), list[Filled]()
        while left:
            ways = []
            for number, bar in enumerate(self.bars):
                if open_room[number] != 0 and bar.length >= left[0]:
                    chosen = _fullest(bar.length, left, self.rnd, chance)
                    ways.append((Fraction(bar.price, sum(chosen)), -sum(chosen), number, chosen))
            if not ways:
                break
            if chance and len(ways) > 1 and self.rnd.random() < 0.5:
                _, _, number, chosen = self.rnd.choice(ways)
            else:
                _, _, number, chosen = min(ways)
            filled.append(Filled(number, chosen))
            count = open_room[number]
            open_room[number] = None if count is None else count - 1
            for size in chosen:
                left.remove(size)
        return self._rods([self._shrunk(bar) for bar in filled], left)

    def _shrunk(self, filled: Filled) -> Filled:
        """The same sizes on the cheapest bar long enough, of those there are any number of."""
        need = sum(filled.sizes)
        ways = [
            (bar.price, number)
            for number, bar in enumerate(self.bars)
            if bar.length >= need and (bar.count is None or number == filled.stock)
        ]
        return Filled(min(ways)[1], filled.sizes)

    def _rods(self, filled: Sequence[Filled], lost: Sequence[int]) -> Rods:
        return Rods(tuple(filled), tuple(lost), sum(self.bars[bar.stock].price for bar in filled), 0)

    def dive(self, table: Bars, columns: Sequence[Column], best: Rods, wild: bool, clock: Clock) -> Rods:
        """Solve the relaxation, take what it uses most, and solve again for what is left.

        When what is left can no longer cost less than the best layout, the last bars are put back, and the
        first of them is not chosen again there. With `wild`, chance has a say in what is taken.
        """
        if any(bar.count is not None for bar in self.bars):
            return best
        goal = best.cost - (gcd(*(bar.price for bar in self.bars)) or 1)
        stock = tuple((bar.length, bar.price) for bar in self.bars)
        left = dict(zip(table.sizes, table.demand, strict=True))
        known = {_key(column, table.sizes): None for column in columns}
        path: list[_Pattern] = []
        banned: set[tuple[int, _Pattern]] = set()
        for _ in range(_DIVES):
            kinds = tuple(size for size, count in left.items() if count > 0)
            if not kinds or clock.over() or self.work > _WORK:
                break
            spent = sum(self.bars[number].price for number, _ in path)
            demand = tuple(left[size] for size in kinds)
            fitting = [_column(key, kinds) for key in known if _fits(key, left)]
            solved = relax(Bars(kinds, demand, demand, stock), goal - spent + 1, 80, True, fitting)
            self.spend(len(kinds), solved.rounds)
            if spent + solved.bound > goal and path:
                for _ in range(min(len(path), self.rnd.choice((1, 1, 2, 4)))):
                    last = path.pop()
                    _change(left, last, 1)
                banned.add((len(path), last))
                continue
            amounts = {_key(column, kinds): amount for column, amount in solved.columns if amount > 1e-6}
            known.update(dict.fromkeys(amounts))
            self._take(amounts, left, path, banned, wild)
        filled = [Filled(number, [size for size, n in counts for _ in range(n)]) for number, counts in path]
        rest = [size for size, count in left.items() for _ in range(count)]
        last_bars = self.fill_all(rest, [None] * len(self.bars))
        return _better(best, self._rods([*filled, *last_bars.bars], last_bars.lost))

    def _take(
        self,
        amounts: dict["_Pattern", float],
        left: dict[int, int],
        path: list["_Pattern"],
        banned: set[tuple[int, "_Pattern"]],
        wild: bool,
    ) -> None:
        """Cut every pattern as often as it is wholly used; if none is, the most used one once."""
        before = len(path)
        for pattern, amount in amounts.items():
            for _ in range(int(amount + 1e-6)):
                if _fits(pattern, left) and (len(path), pattern) not in banned:
                    _change(left, pattern, -1)
                    path.append(pattern)
        if len(path) == before:
            free = [p for p in amounts if _fits(p, left) and (before, p) not in banned]
            if free:
                weight = {p: amounts[p] * (0.6 + self.rnd.random() if wild else 1.0) for p in free}
                chosen = max(free, key=lambda p: (weight[p], p))
                _change(left, chosen, -1)
                path.append(chosen)

    def refill(self, best: Rods, bound: int, clock: Clock) -> Rods:
        """Empty a few bars, weak ones more often, and fill them again with chance; keep what is no worse."""
        rnd = self.rnd
        for _ in range(_TRIALS):
            if clock.over() or not best.bars or (not best.lost and best.cost <= bound):
                break
            bars = list(best.bars)
            many = min(len(bars), rnd.choice((2, 3, 3, 4, 5)))
            keyed = sorted(range(len(bars)), key=lambda n: self._fill(bars[n]) * (0.7 + rnd.random()))
            out = set(keyed[:many])
            before = [bars[n] for n in out]
            stay = [bar for n, bar in enumerate(bars) if n not in out]
            room = [bar.count for bar in self.bars]
            for bar in stay:
                count = room[bar.stock]
                room[bar.stock] = None if count is None else count - 1
            sizes = [size for bar in before for size in bar.sizes] + list(best.lost)
            fresh = self.fill_all(sizes, room, 0.15)
            cost = sum(self.bars[bar.stock].price for bar in before)
            now = (sum(fresh.lost), fresh.cost, -self._merit(fresh.bars))
            if now <= (sum(best.lost), cost, -self._merit(before)):
                best = self._rods([*stay, *fresh.bars], fresh.lost)
        return best

    def _fill(self, bar: Filled) -> float:
        return sum(bar.sizes) / self.bars[bar.stock].length

    def _merit(self, bars: Sequence[Filled]) -> int:
        return sum(sum(bar.sizes) ** 2 for bar in bars)


_Pattern = tuple[int, tuple[tuple[int, int], ...]]
"""A stock number and (size, count) of what is cut from it."""


def _key(column: Column, kinds: Sequence[int]) -> _Pattern:
    return column.stock, tuple((size, n) for size, n in zip(kinds, column.counts, strict=True) if n > 0)


def _column(pattern: _Pattern, kinds: Sequence[int]) -> Column:
    counts = dict(pattern[1])
    return Column(pattern[0], tuple(counts.get(size, 0) for size in kinds))


def _fits(pattern: _Pattern, left: dict[int, int]) -> bool:
    return bool(pattern[1]) and all(left[size] >= n for size, n in pattern[1])


def _change(left: dict[int, int], pattern: _Pattern, sign: int) -> None:
    for size, n in pattern[1]:
        left[size] += sign * n


def _fullest(length: int, left: Sequence[int], rnd: Random, chance: float) -> list[int]:
    """The longest size left, and others that fill the bar best; by sums kept as bits of whole numbers."""
    space, others = length - left[0], left[1:]
    if len(others) > _LOOKED_AT:
        others = [*others[: _LOOKED_AT // 2], *others[-_LOOKED_AT // 2 :]]
    sizes = [size for size in others if not chance or rnd.random() >= chance]
    if chance:
        rnd.shuffle(sizes)
    reach, trail, mask = 1, list[int](), (1 << (space + 1)) - 1
    used: list[int] = []
    for size in sizes:
        if size <= space:
            trail.append(reach)
            used.append(size)
            reach |= (reach << size) & mask
            if reach >> space & 1:
                break
    total, chosen = reach.bit_length() - 1, [left[0]]
    for size, before in zip(reversed(used), reversed(trail), strict=True):
        if not before >> total & 1:
            chosen.append(size)
            total -= size
    return chosen
