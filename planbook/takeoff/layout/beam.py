"""Builds sheets strip by strip, keeping the most promising half-built layouts side by side (not a proof).

A sheet is cut into strips across its width, a strip into rows, a row into parts, and a part that leaves a
gap above itself may carry another: four stages of full-width cuts. The shape of the search follows the tree
search with a waste guide of Fontan and Libralesso (2020); the widths of the beam are set by the caller.
Sizes hold one kerf on their far sides.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]
Reals = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]

GUIDES = 7
"""How many guides there are, numbered from 0."""
_JITTER = 0.03
_ROW, _NEXT_ROW, _STRIP, _GAP, _SHEET = range(5)


@dataclass(frozen=True, slots=True)
class Kinds:
    """Parts alike are one kind: `options` are (width, height, kind, turned), `counts` how many of each."""

    options: tuple[tuple[int, int, int, bool], ...]
    counts: tuple[int, ...]

    def transposed(self) -> "Kinds":
        """The same with width and height exchanged."""
        return Kinds(tuple((h, w, kind, turned) for w, h, kind, turned in self.options), self.counts)


@dataclass(frozen=True, slots=True)
class Plate:
    """A stock size with its price and how many there are (None: as many as wanted)."""

    width: int
    height: int
    price: int
    count: int | None


@dataclass(frozen=True, slots=True)
class Step:
    """One part placed: the option, its corner, and the stock if it opened a new sheet (else None)."""

    option: int
    x: int
    y: int
    opened: int | None


@dataclass(slots=True)
class _States:
    """Half-built layouts, one per entry: the open strip, row and part, and what has been spent."""

    left: npt.NDArray[np.int32]
    used: npt.NDArray[np.int32]
    wide: Ints
    high: Ints
    rate: Reals
    x0: Ints
    x1: Ints
    y0: Ints
    y1: Ints
    start: Ints
    end: Ints
    top: Ints
    closed: Reals
    covered: Reals
    opened: Reals
    area: Ints
    mark: Ints


@dataclass(frozen=True, slots=True)
class _Offers:
    """Every way to go on: what kind of step, from which state, with which option, and its merit."""

    move: Ints
    parent: Ints
    option: Ints
    covered: Reals
    area: Ints
    guide: Reals


class Beam:
    """One set of parts and stock, searched as often as wanted with other guides, widths and prices."""

    def __init__(self, kinds: Kinds, plates: Sequence[Plate]) -> None:
        self.kinds, self.plates = kinds, tuple(plates)
        self.w: Ints = np.array([o[0] for o in kinds.options], dtype=np.int64)
        self.h: Ints = np.array([o[1] for o in kinds.options], dtype=np.int64)
        self.kind: Ints = np.array([o[2] for o in kinds.options], dtype=np.int64)
        self.size = self.w * self.h
        per_kind = {o[2]: o[0] * o[1] for o in kinds.options}
        self.total = sum(per_kind[k] * count for k, count in enumerate(kinds.counts))
        self.marks: Ints = np.random.default_rng(5).integers(1, 2**40, size=len(kinds.counts), dtype=np.int64)
        self.least = min(p.price / (p.width * p.height) for p in plates)
        self.blur: np.random.Generator | None = None

    def search(self, price: int, width: int, guide: int, seed: int = 0) -> list[Step] | None:
        """A layout of all parts for at most `price`, or None if this beam found none.

        A `seed` other than 0 blurs the guide a little, always in the same way for the same seed.
        """
        self.blur = np.random.default_rng(seed) if seed else None
        states, trail = self._start(), []
        for _ in range(sum(self.kinds.counts)):
            offers = self._offers(states, price + 1e-6, guide)
            chosen = self._choose(states, offers, width)
            if len(chosen) == 0:
                return None
            states, step = self._follow(states, offers, chosen)
            trail.append(step)
        return _walk(trail)

    def _start(self) -> _States:
        """One state in which nothing is open, so that the first part has to open a sheet."""

        def one(value: int) -> Ints:
            return np.array([value], dtype=np.int64)

        def none() -> Reals:
            return np.zeros(1)

        left = np.array([self.kinds.counts], dtype=np.int32)
        used = np.zeros((1, len(self.plates)), dtype=np.int32)
        return _States(
            left=left,
            used=used,
            wide=one(0),
            high=one(0),
            rate=none(),
            x0=one(0),
            x1=one(0),
            y0=one(0),
            y1=one(0),
            start=one(0),
            end=one(0),
            top=one(0),
            closed=none(),
            covered=none(),
            opened=none(),
            area=one(0),
            mark=one(0),
        )

    def _offers(self, s: _States, price: float, guide: int) -> _Offers:
        w, h = self.w, self.h
        there = s.left[:, self.kind] > 0
        wide, high, rate = s.wide[:, None], s.high[:, None], s.rate[:, None]
        x0, x1, y0, y1 = s.x0[:, None], s.x1[:, None], s.y0[:, None], s.y1[:, None]
        end, closed = s.end[:, None], s.closed[:, None]
        gap = there & (end - s.start[:, None] >= w) & (s.top[:, None] + h <= y1)
        there = there & ~gap
        right, over = np.maximum(x1, end + w), np.maximum(y1, y0 + h)
        row = there & (right <= wide) & (over <= high)
        in_row = closed + rate * (x0 * high + (right - x0) * y0 + (end + w - x0) * (over - y0))
        there = there & ~(row & (right == x1) & (over == y1))
        broad = np.maximum(x1, x0 + w)
        next_row = there & (broad <= wide) & (y1 + h <= high)
        in_next = closed + rate * (x0 * high + (broad - x0) * y1 + self.size)
        there = there & ~(next_row & (broad == x1))
        strip = there & (x1 + w <= wide) & (h <= high)
        in_strip = closed + rate * (x1 * high + self.size)
        there = there & ~strip
        moves = [(_ROW, row, in_row), (_NEXT_ROW, next_row, in_next), (_STRIP, strip, in_strip)]
        moves.append((_GAP, gap, np.broadcast_to(s.covered[:, None], gap.shape)))
        for number, plate in enumerate(self.plates):
            fits = there & (w <= plate.width) & (h <= plate.height)
            fits &= (s.opened + plate.price <= price)[:, None]
            if plate.count is not None:
                fits &= (s.used[:, number] < plate.count)[:, None]
            spent = s.opened[:, None] + self.size * (plate.price / (plate.width * plate.height))
            moves.append((_SHEET + number, fits, spent))
        return self._gather(s, moves, price, guide)

    def _gather(self, s: _States, moves: Sequence[tuple[int, Flags, Reals]], price: float, guide: int) -> _Offers:
        found = [np.nonzero(fits) for _, fits, _ in moves]
        move = np.concatenate(
            [np.full(len(f[0]), m, dtype=np.int64) for f, (m, _, _) in zip(found, moves, strict=True)]
        )
        parent = np.concatenate([f[0] for f in found])
        option = np.concatenate([f[1] for f in found])
        covered = np.concatenate([spent[f] for f, (_, _, spent) in zip(found, moves, strict=True)])
        area = s.area[parent] + self.size[option]
        # What is left cannot cost less than the cheapest stock asks for its area.
        good = covered + (self.total - area) * self.least <= price
        move, parent, option, covered, area = (
            move[good],
            parent[good],
            option[good],
            covered[good],
            area[good],
        )
        merit = self._merit(covered, area, guide)
        if self.blur is not None:
            merit = merit * (1 + _JITTER * self.blur.random(len(merit)))
        return _Offers(move, parent, option, covered, area, merit)

    def _merit(self, covered: Reals, area: Ints, guide: int) -> Reals:
        """Less is better: the share of what is covered that is waste, for the small parts placed late."""
        filled = area * self.least
        waste = 1 - filled / np.maximum(covered, 1e-9)
        if guide == 0:
            return np.asarray(waste)
        if guide == 1:
            return np.asarray((waste + 1e-9) / area)
        if guide == 2:
            return np.asarray((0.1 + waste) / area)
        if guide == 3:
            return np.asarray((0.02 + waste) / area)
        if guide == 4:
            return np.asarray((0.1 + waste) / np.sqrt(area))
        if guide == 5:
            return np.asarray((0.05 + waste) / area)
        return np.asarray((0.03 + waste) / np.sqrt(area))

    def _choose(self, s: _States, offers: _Offers, width: int) -> Ints:
        """The best offers, only one of those that used the same parts and cover the same."""
        many = 4 * width
        if len(offers.guide) > many:
            near = np.argpartition(offers.guide, many)[:many]
            near.sort()
            order = near[np.argsort(offers.guide[near], kind="stable")]
        else:
            order = np.argsort(offers.guide, kind="stable")
        mark = s.mark[offers.parent[order]] + self.marks[self.kind[offers.option[order]]]
        key = mark * 31 + np.round(offers.covered[order] / self.least).astype(np.int64) * 7
        first = np.unique(key, return_index=True)[1]
        first.sort()
        return np.asarray(order[first[:width]])

    def _follow(self, s: _States, offers: _Offers, chosen: Ints) -> tuple[_States, tuple[Ints, ...]]:
        move, parent, option = offers.move[chosen], offers.parent[chosen], offers.option[chosen]
        w, h, stock = self.w[option], self.h[option], np.maximum(move - _SHEET, 0)
        row, next_row, strip = move == _ROW, move == _NEXT_ROW, move == _STRIP
        gap, sheet = move == _GAP, move >= _SHEET
        x0 = np.where(strip, s.x1[parent], np.where(sheet, 0, s.x0[parent]))
        begin = np.where(row, s.end[parent], np.where(gap, s.start[parent], x0))
        y0 = np.where(row | gap, s.y0[parent], np.where(next_row, s.y1[parent], 0))
        low = np.where(gap, s.top[parent], y0)
        end = np.where(gap, s.end[parent], begin + w)
        x1 = np.where(strip | sheet, end, np.maximum(s.x1[parent], end))
        y1 = np.where(row | gap, np.maximum(s.y1[parent], low + h), y0 + h)
        plates = self.plates
        wides = np.array([p.width for p in plates], dtype=np.int64)
        highs = np.array([p.height for p in plates], dtype=np.int64)
        prices = np.array([p.price for p in plates], dtype=float)
        left, used = s.left[parent], s.used[parent]
        here = np.arange(len(chosen))
        left[here, self.kind[option]] -= 1
        used[here[sheet], stock[sheet]] += 1
        states = _States(
            left=left,
            used=used,
            wide=np.where(sheet, wides[stock], s.wide[parent]),
            high=np.where(sheet, highs[stock], s.high[parent]),
            rate=np.where(sheet, prices[stock] / (wides[stock] * highs[stock]), s.rate[parent]),
            x0=x0,
            x1=x1,
            y0=y0,
            y1=y1,
            start=begin,
            end=end,
            top=low + h,
            closed=np.where(sheet, s.opened[parent], s.closed[parent]),
            covered=offers.covered[chosen],
            opened=np.where(sheet, s.opened[parent] + prices[stock], s.opened[parent]),
            area=offers.area[chosen],
            mark=s.mark[parent] + self.marks[self.kind[option]],
        )
        return states, (parent, option, begin, low, np.where(sheet, stock, -1))


def _walk(trail: Sequence[tuple[Ints, ...]]) -> list[Step]:
    """The steps of the best state at the end, from the first on."""
    steps, at = [], 0
    for parent, option, x, y, stock in reversed(trail):
        opened = int(stock[at])
        steps.append(Step(int(option[at]), int(x[at]), int(y[at]), None if opened < 0 else opened))
        at = int(parent[at])
    return steps[::-1]
