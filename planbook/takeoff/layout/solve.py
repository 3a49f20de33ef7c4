"""Solves a problem of cutting, from records to a finished layout with its cuts (it does not search)."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random
from typing import Literal

from planbook.takeoff.layout.bars import Bar, solve_bars
from planbook.takeoff.layout.bounds import lifted
from planbook.takeoff.layout.check import check
from planbook.takeoff.layout.clear import divisions
from planbook.takeoff.layout.cuts import Block, Region, Sawn, take_apart
from planbook.takeoff.layout.guillotine import Item, Pile, Rule, put
from planbook.takeoff.layout.rebuild import KEYS, Unit
from planbook.takeoff.layout.records import (
    Cut,
    Layout,
    Offcut,
    Part,
    Placement,
    Problem,
    Sheet,
    Stock,
    Trouble,
)
from planbook.takeoff.layout.scale import scale_of
from planbook.takeoff.layout.sheets import Board, solve_flat

_Way = Literal["rip", "crosscut"]


@dataclass(frozen=True, slots=True)
class Group:
    """One problem's worth of a mixed list: the parts and stock of one wood and one thickness."""

    wood: str
    thickness: Fraction | None
    parts: tuple[Part, ...]
    stock: tuple[Stock, ...]


def split(parts: Iterable[Part], stock: Iterable[Stock]) -> tuple[Group, ...]:
    """Sort parts and stock by wood and thickness, in the order of the parts; unneeded stock is left out."""
    wanted: dict[tuple[str, Fraction | None], list[Part]] = defaultdict(list)
    there: dict[tuple[str, Fraction | None], list[Stock]] = defaultdict(list)
    for part in parts:
        wanted[part.wood, part.thickness].append(part)
    for row in stock:
        there[row.wood, row.thickness].append(row)
    return tuple(Group(*key, tuple(some), tuple(there[key])) for key, some in wanted.items())


def solve(problem: Problem) -> Layout:
    """Find a layout of a problem. Bad input gives a layout of what can be cut, with its troubles."""
    checked = check(problem)
    if checked.problem is None:
        return Layout(troubles=checked.troubles)
    work = _Work(checked.problem)
    layout = work.bars() if problem.kind == "bars" else work.flat()
    whole = len(checked.problem.parts) == len(problem.parts)
    return replace(layout, proved=layout.proved and whole, troubles=checked.troubles + layout.troubles)


class _Work:
    """One sound problem in whole units."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.line = problem, problem.kind == "bars"
        self.scale = scale_of(_lengths(problem))
        self.priced = all(row.price is not None for row in problem.stock)
        prices = [row.price if self.priced and row.price is not None else Fraction(1) for row in problem.stock]
        self.money = scale_of(prices)
        self.prices = [self.money.whole(price) for price in prices]
        self.kerf = self.scale.whole(problem.kerf)
        self.edge = 0 if self.line else self.scale.whole(problem.trim_edge)
        self.end = self.scale.whole(problem.trim_end)
        self.copies = [(part, copy) for part in problem.parts for copy in range(1, part.count + 1)]

    def inner(self, stock: int) -> Region:
        """What trim leaves of a stock, in stock coordinates."""
        row = self.problem.stock[stock]
        width = 1 if self.line else self.scale.whole(row.width or Fraction(0)) - 2 * self.edge
        return Region(self.edge, self.end, width, self.scale.whole(row.length) - 2 * self.end)

    def units(self) -> list[list[int]]:
        """Numbers of copies that go on one stock together, in the order of the parts."""
        groups: dict[str, list[int]] = {}
        units: list[list[int]] = []
        for number, (part, _) in enumerate(self.copies):
            if part.together is None:
                units.append([number])
            elif part.together in groups:
                groups[part.together].append(number)
            else:
                groups[part.together] = [number]
                units.append(groups[part.together])
        return units

    def bars(self) -> Layout:
        kerf, problem = self.kerf, self.problem
        stock = range(len(problem.stock))
        bars = [Bar(self.inner(n).height + kerf, self.prices[n], problem.stock[n].count) for n in stock]
        by_size: dict[int, list[list[int]]] = defaultdict(list)
        lost: list[list[int]] = []
        longest = max(bar.length for bar in bars)
        for unit in self.units():
            size = sum(self.scale.whole(self.copies[n][0].length) + kerf for n in unit)
            if size <= longest:
                by_size[size].append(unit)
            else:
                lost.append(unit)
        sizes = [size for size, units in by_size.items() for _ in units]
        if not sizes:
            return self._finished([], [], lost, 0)
        found = solve_bars(sizes, bars, problem.seconds)
        rows = []
        for bar in found.bars:
            numbers = [n for size in bar.sizes for n in by_size[size].pop(0)]
            numbers.sort(key=lambda n: (-self.copies[n][0].length, n))
            rows.append((bar.stock, self._line_blocks(numbers)))
        lost += [unit for units in by_size.values() for unit in units]
        sawn = [self._saw(number, blocks) for number, blocks in rows]
        return self._finished([number for number, _ in rows], sawn, lost, found.bound)

    def _line_blocks(self, numbers: Sequence[int]) -> list[Block]:
        blocks, at = [], self.end
        for number in numbers:
            length = self.scale.whole(self.copies[number][0].length)
            blocks.append(Block(number, 0, at, 1, length))
            at += length + self.kerf
        return blocks

    def flat(self) -> Layout:
        boards = [self._board(number) for number in range(len(self.problem.stock))]
        units: list[Unit] = []
        lost: list[list[int]] = []
        area = max(board.width * board.height for board in boards)
        for unit in self.units():
            items = tuple(sorted((self._item(n) for n in unit), key=lambda item: (-item.area, item.number)))
            if len(items) > 1 and sum(item.area for item in items) > area:
                lost.append(unit)
            else:
                units.append(items)
        if not units:
            return self._finished([], [], lost, 0)
        found = solve_flat(units, boards, self.problem.seconds, self.problem.kind == "boards")
        lost += [[item.number for item in unit] for unit in found.lost]
        rows = [(pile.stock, self._blocks(pile)) for pile in found.piles]
        sawn = [self._saw(number, blocks) for number, blocks in rows]
        if rows:
            fills = [pile.area / (boards[pile.stock].width * boards[pile.stock].height) for pile in found.piles]
            last = min(range(len(rows)), key=lambda n: (fills[n], n))
            sawn[last] = self._tidier(rows[last][0], boards[rows[last][0]], rows[last][1], sawn[last])
        return self._finished([number for number, _ in rows], sawn, lost, found.bound)

    def _board(self, number: int) -> Board:
        row, inner, kerf = self.problem.stock[number], self.inner(number), self.kerf
        whole = self.scale.whole
        defects = [(whole(d.x) - inner.x, whole(d.y) - inner.y, whole(d.width), whole(d.length)) for d in row.defects]
        wide, high = inner.width + kerf, inner.height + kerf
        starts = divisions(wide, high, defects, kerf) or ((),)
        return Board(wide, high, self.prices[number], row.count, starts)

    def _item(self, number: int) -> Item:
        part = self.copies[number][0]
        width, length = self.scale.whole(part.width or Fraction(0)), self.scale.whole(part.length)
        return Item(number, width + self.kerf, length + self.kerf, part.may_turn and self.problem.kind == "sheets")

    def _blocks(self, pile: Pile) -> list[Block]:
        inner = self.inner(pile.stock)
        return [Block(n, x + inner.x, y + inner.y, w - self.kerf, h - self.kerf) for n, x, y, w, h in pile.spots]

    def _saw(self, stock: int, blocks: Sequence[Block]) -> Sawn:
        """The cuts of one sheet; strips change places where no defect forbids it and it gains something."""
        inner = self.inner(stock)
        plain = take_apart(inner, blocks, self.kerf, move=False)
        moved = None if self.problem.stock[stock].defects else take_apart(inner, blocks, self.kerf, move=True)
        ways = [way for way in (moved, plain) if way is not None]
        if not ways:
            raise AssertionError("a sheet was filled that full-width cuts cannot take apart")
        return max(ways, key=lambda way: (way.largest, -way.settings))

    def _tidier(self, stock: int, board: Board, blocks: Sequence[Block], best: Sawn) -> Sawn:
        """Fill the emptiest sheet again by every plain rule, for the largest offcut and fewest settings."""
        if len(blocks) > 60:
            return best
        items = [self._item(block.number) for block in blocks]
        least = min(min(item.width, item.height) for item in items)
        for key in KEYS:
            order = sorted(items, key=key, reverse=True)
            for fit in range(4):
                for cut in range(4):
                    pile = Pile(stock, list(board.starts[0]), [], 0)
                    if all(put(pile, item, Rule(fit, cut, least), Random(1)) for item in order):
                        sawn = self._saw(stock, self._blocks(pile))
                        if (sawn.largest, -sawn.settings) > (best.largest, -best.settings):
                            best = sawn
        return best

    def _finished(
        self, stock: Sequence[int], sawn: Sequence[Sawn], lost: Sequence[Sequence[int]], bound: int
    ) -> Layout:
        order = sorted(range(len(sawn)), key=lambda n: (stock[n], sawn[n].largest, n))
        sheets = tuple(self._sheet(number, stock[n], sawn[n]) for number, n in enumerate(order, start=1))
        cost = sum(self.prices[n] for n in stock)
        bound = lifted(bound, self.prices, cost)
        missing = Counter(self.copies[n][0].name for unit in lost for n in unit)
        return Layout(
            sheets=sheets,
            cost=self.money.exact(cost),
            bound=self.money.exact(bound),
            priced=self.priced,
            proved=not missing and cost == bound,
            missing=tuple(missing.items()),
            troubles=self._shortages(lost),
        )

    def _shortages(self, lost: Sequence[Sequence[int]]) -> tuple[Trouble, ...]:
        """Parts without room: a group that no stock can hold, or stock that ran out."""
        found = []
        for unit in lost:
            if len(unit) > 1:
                names = dict.fromkeys(self.copies[n][0].name for n in unit)
                found.append(Trouble("group-too-large", tuple(names), (("missing", Fraction(len(unit))),)))
        single = Counter(self.copies[unit[0]][0].name for unit in lost if len(unit) == 1)
        for name, count in single.items():
            found.append(Trouble("stock-not-enough", (name,), (("missing", Fraction(count)),)))
        return tuple(found)

    def _sheet(self, number: int, stock: int, sawn: Sawn) -> Sheet:
        row, exact = self.problem.stock[stock], self.scale.exact
        inner = self.inner(stock)
        cuts = [*self._trims(row, inner), *((c.way, c.at, c.start, c.end, c.fence) for c in sawn.cuts)]
        return Sheet(
            stock=row.name,
            number=number,
            width=row.width or Fraction(0),
            length=row.length,
            placements=tuple(self._placement(block) for block in sawn.blocks),
            cuts=tuple(
                Cut(
                    n,
                    way,
                    exact(at),
                    self._across(start, way, row),
                    self._across(end, way, row),
                    exact(fence),
                )
                for n, (way, at, start, end, fence) in enumerate(cuts, start=1)
            ),
            offcuts=tuple(self._offcut(rest, row) for rest in sawn.rests),
        )

    def _across(self, value: int, way: str, row: Stock) -> Fraction:
        """Where a cut begins or ends; on a bar a cut runs across its whole width, if that is known."""
        if not self.line:
            return self.scale.exact(value)
        return Fraction(0) if value == 0 else row.width or Fraction(0)

    def _trims(self, row: Stock, inner: Region) -> list[tuple[_Way, int, int, int, int]]:
        """The cuts that take off the trim, before all others."""
        cuts: list[tuple[_Way, int, int, int, int]] = []
        high = self.scale.whole(row.length)
        wide = 1 if self.line else inner.width + 2 * self.edge
        if self.end:
            cuts.append(("crosscut", self.end - self.kerf, 0, wide, self.end - self.kerf))
            cuts.append(("crosscut", high - self.end, 0, wide, inner.height))
        if self.edge:
            ends = (inner.y, inner.y + inner.height)
            cuts.append(("rip", self.edge - self.kerf, *ends, self.edge - self.kerf))
            cuts.append(("rip", wide - self.edge, *ends, inner.width))
        return cuts

    def _placement(self, block: Block) -> Placement:
        part, copy = self.copies[block.number]
        exact = self.scale.exact
        if self.line:
            return Placement(part.name, copy, Fraction(0), exact(block.y), part.width or Fraction(0), part.length)
        width, length = exact(block.width), exact(block.height)
        turned = (width, length) != (part.width, part.length)
        return Placement(part.name, copy, exact(block.x), exact(block.y), width, length, turned)

    def _offcut(self, rest: Region, row: Stock) -> Offcut:
        exact = self.scale.exact
        if self.line:
            return Offcut(Fraction(0), exact(rest.y), row.width or Fraction(0), exact(rest.height))
        return Offcut(exact(rest.x), exact(rest.y), exact(rest.width), exact(rest.height))


def _lengths(problem: Problem) -> list[Fraction]:
    """Every length of a problem: the scale has to measure them all."""
    found = [problem.kerf, problem.trim_edge, problem.trim_end]
    pieces: list[Part | Stock] = [*problem.parts, *problem.stock]
    for piece in pieces:
        found += [piece.length, piece.width or Fraction(0)]
    found += [value for row in problem.stock for d in row.defects for value in (d.x, d.y, d.width, d.length)]
    return found
