"""Improves a set of filled sheets by emptying a few and filling them again in another order (not a proof).

Sizes hold one kerf on their far sides. A layout is changed only for one that costs no more and is fuller on
its fullest sheets, so that the emptiest sheet empties further until it is not needed.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from random import Random

from planbook.takeoff.layout.guillotine import Item, Pile, Rect, Rule, best_spot, put, take

Unit = tuple[Item, ...]
"""Parts that go on one sheet: nearly always one part."""

KEYS: tuple[Callable[[Item], int], ...] = (
    lambda item: item.width * item.height,
    lambda item: max(item.width, item.height),
    lambda item: item.width,
    lambda item: item.height,
    lambda item: item.width + item.height,
    lambda item: min(item.width, item.height),
)
_WINDOW = 60
"""Only so many of the sheets opened last are tried for a part: this keeps thousands of parts in bounds."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A stock size to open: price, how many there are, and ways to divide it around its defects."""

    price: int
    count: int | None
    area: int
    starts: tuple[tuple[Rect, ...], ...]


class Builder:
    """Fills sheets with units by one rule; holds the stock, the chance and the count of work done."""

    def __init__(self, pieces: Sequence[Piece], least: int, rnd: Random) -> None:
        self.pieces, self.least, self.rnd = tuple(pieces), least, rnd
        self.work = 0
        self.rates = [piece.price / piece.area for piece in self.pieces]
        self.order = sorted(range(len(pieces)), key=lambda n: (self.rates[n], -self.pieces[n].area, n))

    def build(
        self, units: Iterable[Unit], rule: Rule, room: Sequence[int | None], most: int | None, wild: bool
    ) -> tuple[list[Pile], list[Unit]]:
        """Place the units in their order; stop at the first that does not fit if `most` (a cost) is given.

        `room` is how many of each stock may be opened, `wild` opens stock by chance instead of by price.
        """
        piles: list[Pile] = []
        left, lost, cost = list(room), [], 0
        for unit in units:
            if self._add(piles[-_WINDOW:], unit, rule):
                continue
            opened = self._open(unit, rule, left, None if most is None else most - cost, wild)
            if opened is not None:
                piles.append(opened)
                cost += self.pieces[opened.stock].price
                count = left[opened.stock]
                left[opened.stock] = None if count is None else count - 1
            else:
                lost.append(unit)
                if most is not None:
                    break
        return piles, lost

    def _add(self, piles: Sequence[Pile], unit: Unit, rule: Rule) -> bool:
        if len(unit) > 1:
            return any(self._add_all(pile, unit, rule) for pile in piles)
        item, best, found = unit[0], None, None
        for pile in piles:
            if pile.free:
                self.work += len(pile.free) + 2
                spot = best_spot(pile.free, item, rule.fit)
                if spot is not None and (best is None or spot[0] < best):
                    best, found = spot[0], (pile, spot)
                    if best == 0 and rule.fit == 0:
                        break
        if found is None:
            return False
        take(found[0], item, found[1][1], found[1][2], rule, self.rnd)
        return True

    def _add_all(self, pile: Pile, unit: Unit, rule: Rule) -> bool:
        """All parts of a unit on one sheet, or none."""
        trial = Pile(pile.stock, list(pile.free), list(pile.spots), pile.area)
        self.work += len(pile.free) * len(unit)
        if not all(put(trial, item, rule, self.rnd) for item in unit):
            return False
        pile.free, pile.spots, pile.area = trial.free, trial.spots, trial.area
        return True

    def _open(self, unit: Unit, rule: Rule, left: Sequence[int | None], most: int | None, wild: bool) -> Pile | None:
        order = self.order
        if wild and len(order) > 1:
            order = self.rnd.sample(order, len(order))
        for number in order:
            piece = self.pieces[number]
            if left[number] == 0 or (most is not None and piece.price > most):
                continue
            start = piece.starts[0] if len(piece.starts) == 1 else self.rnd.choice(piece.starts)
            pile = Pile(number, list(start), [], 0)
            if self._add_all(pile, unit, rule):
                return pile
        return None

    def cost(self, piles: Iterable[Pile]) -> int:
        """What the stock of these sheets costs."""
        return sum(self.pieces[pile.stock].price for pile in piles)


class Rebuild:
    """A layout that is improved trial by trial."""

    def __init__(self, builder: Builder, units: Sequence[Unit]) -> None:
        self.builder, self.units = builder, tuple(units)
        self.unit_of = {item.number: unit for unit in units for item in unit}
        self.piles: list[Pile] = []
        self.lost: list[Unit] = list(units)
        self.several = len(builder.pieces) > 1

    def start(self, quick: bool, goal: int) -> None:
        """Fill everything by every plain rule and keep the cheapest; stop at the goal, a cost."""
        builder = self.builder
        room = [piece.count for piece in builder.pieces]
        for key in KEYS[:1] if quick else KEYS:
            order = sorted(self.units, key=lambda unit: _largest(unit, key), reverse=True)
            for fit in (1,) if quick else (0, 1, 2):
                for split in (0, 2) if quick else (0, 1, 2, 3):
                    for wild in (False, True) if self.several else (False,):
                        piles, lost = builder.build(order, Rule(fit, split, builder.least), room, None, wild)
                        self._keep(piles, lost)
                        if not self.lost and self.cost <= goal:
                            return

    def _keep(self, piles: list[Pile], lost: list[Unit]) -> None:
        if self.several:
            piles = [self._cheaper(pile) for pile in piles]
        if _rank(self.builder, piles, lost) < _rank(self.builder, self.piles, self.lost):
            self.piles, self.lost = piles, lost

    @property
    def cost(self) -> int:
        """The cost of the layout so far."""
        return self.builder.cost(self.piles)

    def adopt(self, piles: list[Pile]) -> None:
        """Take over a layout of all parts that was found elsewhere."""
        self.piles, self.lost = piles, []

    def trial(self) -> None:
        """Empty two to four sheets, weak ones more often, and fill them again; keep what is no worse."""
        builder, rnd, piles = self.builder, self.builder.rnd, self.piles
        many = min(len(piles), rnd.choice((2, 2, 3, 3, 4)))
        if rnd.random() < 0.7:
            out = sorted(range(len(piles)), key=lambda n: self._fill(piles[n]) * (0.5 + rnd.random()))[:many]
        else:
            out = rnd.sample(range(len(piles)), many)
        units = self._units(piles[n] for n in out) + self.lost
        key, noise = rnd.choice(KEYS), rnd.choice((0.0, 0.1, 0.3, 0.6))
        units.sort(key=lambda unit: _largest(unit, key) * (1 + noise * (rnd.random() - 0.5)), reverse=True)
        gone = set(out)
        stay = [pile for n, pile in enumerate(piles) if n not in gone]
        before = [piles[n] for n in out]
        cost = builder.cost(before)
        rule = Rule(rnd.choice((0, 0, 1, 2)), rnd.randrange(5), builder.least)
        room = self._room(stay)
        most = None if self.lost else cost
        fresh, lost = builder.build(units, rule, room, most, self.several and rnd.random() < 0.7)
        if lost and (not self.lost or _size(lost) > _size(self.lost)):
            return
        if self.several and not lost:
            fresh = [self._cheaper(pile) for pile in fresh]
        now = builder.cost(fresh)
        better = len(lost) < len(self.lost) or now < cost
        if better or (now == cost and self._merit(fresh) >= self._merit(before)):
            self.piles, self.lost = stay + fresh, lost

    def _units(self, piles: Iterable[Pile]) -> list[Unit]:
        found: dict[int, Unit] = {}
        for pile in piles:
            for spot in pile.spots:
                unit = self.unit_of[spot[0]]
                found[unit[0].number] = unit
        return list(found.values())

    def _room(self, stay: Iterable[Pile]) -> list[int | None]:
        room = [piece.count for piece in self.builder.pieces]
        for pile in stay:
            count = room[pile.stock]
            if count is not None:
                room[pile.stock] = count - 1
        return room

    def _fill(self, pile: Pile) -> float:
        return pile.area / self.builder.pieces[pile.stock].area

    def _merit(self, piles: Iterable[Pile]) -> float:
        return sum(pile.area**2 / self.builder.pieces[pile.stock].area for pile in piles)

    def _cheaper(self, pile: Pile) -> Pile:
        """The same parts on cheaper stock, if a few tries find room there."""
        builder = self.builder
        price = builder.pieces[pile.stock].price
        for number in sorted(range(len(builder.pieces)), key=lambda n: builder.pieces[n].price):
            piece = builder.pieces[number]
            if piece.price >= price:
                break
            # Limited stock is left to the trials, which know how many are still there.
            if piece.count is None and piece.area >= pile.area:
                moved = self._move(pile, number)
                if moved is not None:
                    return moved
        return pile

    def _move(self, pile: Pile, number: int) -> Pile | None:
        builder, piece = self.builder, self.builder.pieces[number]
        items = [item for unit in self._units([pile]) for item in unit]
        for key in KEYS[:3]:
            items.sort(key=key, reverse=True)
            for split in (0, 2):
                trial = Pile(number, list(piece.starts[0]), [], 0)
                builder.work += len(items)
                if all(put(trial, item, Rule(0, split, builder.least), builder.rnd) for item in items):
                    return trial
        return None


def _largest(unit: Unit, key: Callable[[Item], int]) -> int:
    return key(unit[0]) if len(unit) == 1 else sum(key(item) for item in unit)


def _size(units: Iterable[Unit]) -> int:
    return sum(item.area for unit in units for item in unit)


def _rank(builder: Builder, piles: Sequence[Pile], lost: Sequence[Unit]) -> tuple[int, int, float]:
    fills = sum(pile.area**2 / builder.pieces[pile.stock].area for pile in piles)
    return (_size(lost), builder.cost(piles), -fills)
