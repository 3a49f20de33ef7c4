"""Proves how little stock could ever be enough for flat parts (it places nothing).

Three bounds, each valid for any cuts: by area; by pairs of dual feasible functions (Fekete and Schepers,
Mathematical Programming 91, 2001; Carlier, Clautiaux and Moukrim, Computers & Operations Research 34, 2007);
and by bars: parts are sliced into bars one unit thick, and the bars are relaxed (`relax`). Turning parts is
covered on square stock by taking every part in both ways and half the bound, because a layout of a square
sheet may be turned over its diagonal (Dell'Amico, Martello and Vigo, Discrete Applied Mathematics 118, 2002).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd, lcm

import numpy as np

from planbook.takeoff.layout.knapsack import Reals
from planbook.takeoff.layout.relax import Bars, relax

_MOST_KINDS = 400
ROUNDS = 150


@dataclass(frozen=True, slots=True)
class Flat:
    """Flat parts of one size: width, height, how many, and whether they may be turned."""

    width: int
    height: int
    count: int
    turn: bool


@dataclass(frozen=True, slots=True)
class Size:
    """A stock size with its price (whole money, or 1 to count sheets)."""

    width: int
    height: int
    price: int


def least_cost(parts: Sequence[Flat], sizes: Sequence[Size], enough: int, rounds: int = ROUNDS) -> int:
    """A whole number no layout can cost less than; stops once it reaches `enough`, a cost already reached.

    `rounds` limits the work of the bound by bars.
    """
    if not parts:
        return 0
    step = gcd(*(size.price for size in sizes)) or 1
    best = _up(by_area(parts, sizes), step)
    tries = (_by_pairs, _by_bars) if len(parts) <= _MOST_KINDS else ()
    for bound in tries:
        if best >= enough:
            break
        best = max(best, _up(bound(parts, sizes, enough, rounds), step))
    return best


def by_area(parts: Sequence[Flat], sizes: Sequence[Size]) -> Fraction:
    """The price of the area of the parts in the cheapest stock for its area."""
    area = sum(part.width * part.height * part.count for part in parts)
    return area * min(Fraction(size.price, size.width * size.height) for size in sizes)


def _up(bound: Fraction, step: int) -> int:
    """Round up to what prices can add up to: a multiple of their greatest common divisor."""
    return ceil(bound / step) * step


def _settled(parts: Sequence[Flat], sizes: Sequence[Size]) -> list[Flat]:
    """Parts that fit in one way only are no longer free to turn."""
    found = []
    for part in parts:
        upright = any(part.width <= s.width and part.height <= s.height for s in sizes)
        turned = part.turn and any(part.height <= s.width and part.width <= s.height for s in sizes)
        if turned and not upright:
            found.append(Flat(part.height, part.width, part.count, False))
        else:
            found.append(Flat(part.width, part.height, part.count, turned and part.width != part.height))
    return found


def _ways(parts: Sequence[Flat], sizes: Sequence[Size]) -> tuple[list[Flat], int] | None:
    """Parts that keep their way, and what to divide by; None if turning cannot be covered so."""
    settled = _settled(parts, sizes)
    if not any(part.turn for part in settled):
        return settled, 1
    if any(size.width != size.height for size in sizes):
        return None
    both = [Flat(p.width, p.height, p.count, False) for p in parts]
    return both + [Flat(p.height, p.width, p.count, False) for p in parts], 2


def functions(capacity: int, sizes: Sequence[int]) -> list[tuple[list[int], int]]:
    """Dual feasible functions at the sizes: whole values, and the most that parts in one capacity can reach.

    The first is the identity. Any units; every family is described in the papers named above.
    """
    steps = sorted({s for size in sizes for s in (size, capacity - size + 1) if s > 0 and 2 * s <= capacity})
    found = [(list(sizes), capacity)]
    for k in steps:
        found.append(([capacity if x > capacity - k else 0 if x < k else x for x in sizes], capacity))
        whole = capacity // k
        values = []
        for x in sizes:
            if 2 * x > capacity:
                values.append(2 * (whole - (capacity - x) // k))
            else:
                values.append(whole if 2 * x == capacity else 2 * (x // k))
        found.append((values, 2 * whole))
    for p in range(1, 13):
        values = [p * x if (p + 1) * x % capacity == 0 else (p + 1) * x // capacity * capacity for x in sizes]
        found.append((values, p * capacity))
    return found


def _by_pairs(parts: Sequence[Flat], sizes: Sequence[Size], enough: int, rounds: int) -> Fraction:
    """The best product of two functions, one for widths and one for heights, on stock of one size.

    It is computed in one go: `enough` and `rounds` are not needed.
    """
    if len(sizes) > 1:
        return Fraction(0)
    size = sizes[0]
    ways = _ways(parts, sizes)
    flats = ways[0] if ways else _settled(parts, sizes)
    across = functions(size.width, [f.width for f in flats])
    along = functions(size.height, [f.height for f in flats])
    counts = np.array([f.count for f in flats], dtype=float)
    left, up = _shares(across), _shares(along)
    if ways:
        values = (left * counts) @ up.T
        a, b = divmod(int(np.argmax(values)), len(along))
        total = sum(across[a][0][i] * along[b][0][i] * f.count for i, f in enumerate(flats))
        return Fraction(total * size.price, across[a][1] * along[b][1] * ways[1])
    return _turned_pairs(flats, size)


def _turned_pairs(flats: Sequence[Flat], size: Size) -> Fraction:
    """The same on stock that is not square: a part that may turn counts the less of its two ways."""
    n = len(flats)
    across = functions(size.width, [f.width for f in flats] + [f.height for f in flats])
    along = functions(size.height, [f.height for f in flats] + [f.width for f in flats])
    turn = np.array([f.turn for f in flats])
    counts = np.array([f.count for f in flats], dtype=float)
    up = _shares(along)
    best, pair = -1.0, (0, 0)
    for a, row in enumerate(_shares(across)):
        plain, turned = row[:n] * up[:, :n], row[n:] * up[:, n:]
        values = np.where(turn, np.minimum(plain, turned), plain) @ counts
        b = int(np.argmax(values))
        if values[b] > best:
            best, pair = float(values[b]), (a, b)
    (xs, wide), (ys, high) = across[pair[0]], along[pair[1]]
    total = 0
    for i, f in enumerate(flats):
        worth = xs[i] * ys[i]
        total += f.count * (min(worth, xs[i + n] * ys[i + n]) if f.turn else worth)
    return Fraction(total * size.price, wide * high)


def _shares(found: Sequence[tuple[list[int], int]]) -> Reals:
    return np.array([[value / top for value in values] for values, top in found], dtype=float)


def _by_bars(parts: Sequence[Flat], sizes: Sequence[Size], enough: int, rounds: int) -> Fraction:
    """The best of the slices one way and the other, with plain and with rounded thickness."""
    ways = _ways(parts, sizes)
    if ways is None:
        return Fraction(0)
    flats, share = ways
    best = Fraction(0)
    turned = [Flat(f.height, f.width, f.count, False) for f in flats]
    over = [Size(s.height, s.width, s.price) for s in sizes]
    for some, stock in ((flats, sizes), (turned, over)) if share == 1 else ((flats, sizes),):
        for values, top in _thicknesses(some, stock):
            best = max(best, _slices(some, stock, values, top, enough * share, rounds) / share)
            if ceil(best) >= enough:
                return best
    return best


def _thicknesses(flats: Sequence[Flat], sizes: Sequence[Size]) -> list[tuple[list[int], list[int]]]:
    """Thicknesses to try: as they are, and on one stock size the rounded ones that promise most by area."""
    plain = ([f.height for f in flats], [s.height for s in sizes])
    if len(sizes) > 1:
        return [plain]
    found = functions(sizes[0].height, plain[0])
    scored = []
    for values, top in found[1:]:
        total = sum(v * f.width * f.count for v, f in zip(values, flats, strict=True))
        scored.append((-Fraction(total, top), values, [top]))
    scored.sort(key=lambda row: row[0])
    return [plain] + [(values, top) for _, values, top in scored[:3]]


def _slices(
    flats: Sequence[Flat],
    sizes: Sequence[Size],
    values: Sequence[int],
    tops: Sequence[int],
    enough: int,
    rounds: int,
) -> Fraction:
    """The relaxed cost of bars as wide as the parts, as many as each part is thick."""
    widths = sorted({f.width for f, v in zip(flats, values, strict=True) if v > 0})
    if not widths:
        return Fraction(0)
    demand, most = dict.fromkeys(widths, 0), dict.fromkeys(widths, 0)
    for f, value in zip(flats, values, strict=True):
        if value > 0:
            demand[f.width] += value * f.count
            most[f.width] += f.count
    common = lcm(*tops)
    stock = tuple((s.width, s.price * (common // top)) for s, top in zip(sizes, tops, strict=True))
    bars = Bars(tuple(widths), tuple(demand.values()), tuple(most.values()), stock)
    return relax(bars, enough * common, rounds).bound / common


_MOST_WORK = 2_000_000
_MOST_MARKS = 12


def by_number(parts: Sequence[Flat], sizes: Sequence[Size]) -> int:
    """The least cost by counting: a sheet holds only so many parts as wide and as long as some mark, or more.

    On a sheet W x H no more than floor(W / a) floor(H / b) parts at least a wide and b high have room, whatever
    the cuts: the points (a i, b j) of a grid over the sheet meet each of them. Parts that may be turned
    count by their shorter side. The cheapest sheets that hold the number are found exactly, for marks at the
    sizes of the parts.
    """
    rows = [(min(p.width, p.height),) * 2 if p.turn else (p.width, p.height) for p in parts]
    best = 0
    for a in _marks([width for width, _ in rows]):
        for b in _marks([height for _, height in rows]):
            number = sum(part.count for part, (w, h) in zip(parts, rows, strict=True) if w >= a and h >= b)
            holds = [((size.width // a) * (size.height // b), size.price) for size in sizes]
            holds = [(many, price) for many, price in holds if many]
            if number and holds and number * len(holds) * _MOST_MARKS**2 <= _MOST_WORK:
                best = max(best, _cheapest(number, holds))
    return best


def _marks(sizes: Sequence[int]) -> list[int]:
    """Some of the sizes, evenly taken where there are many."""
    each = sorted(set(sizes))
    step = max(1, -(-len(each) // _MOST_MARKS))
    return each[::step]


def _cheapest(number: int, holds: Sequence[tuple[int, int]]) -> int:
    """The least price of stock that holds a number, of (how many one holds, its price)."""
    cost = [0]
    for n in range(1, number + 1):
        cost.append(min(cost[max(0, n - many)] + price for many, price in holds))
    return cost[number]


_MOST_SUMS = 200_000


def lifted(bound: int, prices: Sequence[int], cost: int) -> int:
    """The least sum of whole stocks that is no less than the bound: nobody can buy for less than that.

    `cost` is a sum of these prices; where it is too large to list all sums up to it, the bound stays as it is.
    """
    step = gcd(*prices)
    if step == 0 or min(prices) == 0 or not bound < cost or cost // step > _MOST_SUMS:
        return bound
    most, sums = cost // step, 1
    mask = (1 << (most + 1)) - 1
    for price in {price // step for price in prices}:
        shift = price
        while shift <= most:
            sums |= (sums << shift) & mask
            shift *= 2
    above = sums >> -(-bound // step)
    return (-(-bound // step) + (above & -above).bit_length() - 1) * step
