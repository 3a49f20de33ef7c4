"""Finds a layout of flat parts on sheets or boards: bound first, then two searches until it is met."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, gcd
from random import Random

from planbook.takeoff.layout.bars import least_cover
from planbook.takeoff.layout.beam import Beam, Kinds, Plate, Step
from planbook.takeoff.layout.bounds import ROUNDS, Flat, Size, by_number, least_cost, lifted
from planbook.takeoff.layout.clock import Clock
from planbook.takeoff.layout.guillotine import Item, Pile, Rect
from planbook.takeoff.layout.rebuild import Builder, Piece, Rebuild, Unit


@dataclass(frozen=True, slots=True)
class Round:
    """One round of the search: beams of one width by some guides, with so many blurred starts of each (0: one
    that is not blurred), then so much work at emptying and filling sheets (free rectangles looked at)."""

    width: int
    guides: tuple[int, ...]
    starts: int
    work: int


FULL = (
    Round(20, (0, 1, 2, 3, 4), 0, 80_000),
    Round(30, (6, 5, 2, 3), 2, 350_000),
    Round(50, (4, 3), 0, 0),
    Round(200, (3,), 0, 50_000),
    Round(50, (6, 5, 4), 2, 0),
)
SEVERAL = (
    Round(20, (0, 1, 2, 3, 4), 0, 80_000),
    Round(30, (1, 5, 6), 6, 120_000),
    Round(60, (1, 5), 3, 50_000),
)
BOARDS = (Round(20, (1, 4), 0, 15_000), Round(20, (6,), 1, 10_000))
QUICK = (Round(3, (2, 3, 4), 0, 200_000),)
MANY = (Round(3, (3,), 0, 200_000),)
MOST_OFFERS = 12_000
"""More parts times sizes of stock than this are laid out by one look, so that the answer still comes in seconds."""
_SPARE = 60
_BEAM_KINDS = 2_500
_BEAM_CELLS = 400_000_000


@dataclass(frozen=True, slots=True)
class Board:
    """A stock size in whole units with its kerf; `starts` divide it around its defects."""

    width: int
    height: int
    price: int
    count: int | None
    starts: tuple[tuple[Rect, ...], ...]

    @property
    def clear(self) -> bool:
        """Whether it has no defects."""
        return self.starts == (((0, 0, self.width, self.height),),)


@dataclass(frozen=True, slots=True)
class Found:
    """The sheets, the units for which there was no room, and the proved bound."""

    piles: tuple[Pile, ...]
    lost: tuple[Unit, ...]
    cost: int
    bound: int


def solve_flat(
    units: Sequence[Unit], boards: Sequence[Board], seconds: float | None = None, brief: bool = False
) -> Found:
    """Lay out units (parts, or parts that go together) on boards; every part fits some board.

    `brief` is for a rack of boards, where the answer should come at once.
    """
    clock = Clock(seconds)
    items = [item for unit in units for item in unit]
    least = min(min(item.width, item.height) for item in items)
    pieces = [Piece(b.price, b.count, b.width * b.height, b.starts) for b in boards]
    builder = Builder(pieces, least, Random(1))
    state = Rebuild(builder, units)
    flats, sizes = _flats(items), [Size(b.width, b.height, b.price) for b in boards]
    stock = [(b.width * b.height, b.price, b.count) for b in boards]
    area = ceil(least_cover(sum(item.area for item in items), stock))
    bound = max(least_cost(flats, sizes, 0), area, by_number(flats, sizes))
    state.start(quick=len(items) > 200, goal=bound)
    prices = [board.price for board in boards]
    if not state.lost:
        bound = lifted(bound, prices, state.cost)
    if state.lost or state.cost > bound:
        enough = state.cost if not state.lost else 1 << 62
        bound = max(bound, least_cost(flats, sizes, enough, 40 if brief else ROUNDS))
        if not state.lost:
            bound = lifted(bound, prices, state.cost)
        _search(state, items, boards, bound, clock, brief)
    if state.piles and len(items) <= 200:
        # The bound is met or will not be: a little more work empties the emptiest sheet further.
        for _ in range(_SPARE):
            state.trial()
    cost = state.cost
    return Found(tuple(state.piles), tuple(state.lost), cost, bound)


def _flats(items: Sequence[Item]) -> list[Flat]:
    alike = Counter((item.width, item.height, item.turn) for item in items)
    return [Flat(w, h, count, turn) for (w, h, turn), count in alike.items()]


def _search(
    state: Rebuild, items: Sequence[Item], boards: Sequence[Board], bound: int, clock: Clock, brief: bool
) -> None:
    """Take turns until the bound is met or the plan is done."""
    beams = _beams(state, items, boards)
    if len(items) * len(boards) > MOST_OFFERS:
        beams = beams[:1]
        plan: Sequence[Round] = MANY
    else:
        plan = QUICK if len(items) > 200 else BOARDS if brief else SEVERAL if state.several else FULL
    for number, part in enumerate(plan):
        for guide in part.guides:
            for start in range(max(1, part.starts)):
                seed = 1 + start + 100 * number if part.starts else 0
                for beam in beams:
                    _beam_round(state, beam, items, (part.width, guide, seed), bound, clock)
        stop = state.builder.work + part.work
        while state.builder.work < stop and not clock.over():
            if not state.lost and state.cost <= bound:
                return
            if not state.piles:
                return
            before = state.builder.work
            state.trial()
            state.builder.work = max(state.builder.work, before + 20)


@dataclass(frozen=True, slots=True)
class _Turned:
    """A beam, and whether it works with width and height exchanged."""

    beam: Beam
    over: bool
    numbers: tuple[tuple[int, ...], ...]


def _beams(state: Rebuild, items: Sequence[Item], boards: Sequence[Board]) -> list[_Turned]:
    """The beam both ways; none where it does not apply (defects, parts that go together, free stock)."""
    plain = all(len(unit) == 1 for unit in state.units)
    if not plain or not all(board.clear and board.price > 0 for board in boards) or len(items) > _BEAM_KINDS:
        return []
    alike: dict[tuple[int, int, bool], list[int]] = {}
    for item in items:
        alike.setdefault((item.width, item.height, item.turn), []).append(item.number)
    options = []
    for kind, (width, height, turn) in enumerate(alike):
        options.append((width, height, kind, False))
        if turn and width != height:
            options.append((height, width, kind, True))
    kinds = Kinds(tuple(options), tuple(len(numbers) for numbers in alike.values()))
    numbers = tuple(tuple(row) for row in alike.values())
    plates = [Plate(b.width, b.height, b.price, b.count) for b in boards]
    over = [Plate(b.height, b.width, b.price, b.count) for b in boards]
    return [
        _Turned(Beam(kinds, plates), False, numbers),
        _Turned(Beam(kinds.transposed(), over), True, numbers),
    ]


def _beam_round(
    state: Rebuild,
    turned: _Turned,
    items: Sequence[Item],
    how: tuple[int, int, int],
    bound: int,
    clock: Clock,
) -> None:
    """Ask one guide for a cheaper layout, and again after each success."""
    step = _step(state)
    cells = len(items) * len(turned.beam.kinds.options)
    width, guide, seed = how
    width = max(1, min(width, _BEAM_CELLS // (cells * 60)))
    while not clock.over() and (state.lost or state.cost > bound):
        # A layout with parts missing is no measure: then any price will do.
        price = (1 << 60) if state.lost else state.cost - max(step, state.cost // 2000 // step * step)
        steps = turned.beam.search(price, width, guide, seed)
        if steps is None:
            return
        state.adopt(_piles(turned, steps))


def _step(state: Rebuild) -> int:
    return gcd(*(piece.price for piece in state.builder.pieces)) or 1


def _piles(turned: _Turned, steps: Sequence[Step]) -> list[Pile]:
    """The sheets that the steps of a beam fill."""
    waiting = [list(row) for row in turned.numbers]
    piles: list[Pile] = []
    for step in steps:
        width, height, kind, _ = turned.beam.kinds.options[step.option]
        if step.opened is not None:
            piles.append(Pile(step.opened, [], [], 0))
        number, pile = waiting[kind].pop(0), piles[-1]
        spot = (step.y, step.x, height, width) if turned.over else (step.x, step.y, width, height)
        pile.spots.append((number, *spot))
        pile.area += width * height
    return piles
