"""Rounds lengths that add up so that the printed ones add up too; it prints nothing and finds no chains."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from planbook.units.printing import FINE_MM, THOUSANDTH, LengthStyle, in_steps, is_in_thousandths, per_step

MOST_TRIES = 20_000
"""So many roundings are tried before a set of chains counts as one that cannot be settled."""


@dataclass(frozen=True, slots=True)
class Chain:
    """Lengths (mm) that come to a total, under the name of the size that says so."""

    name: str
    parts: tuple[Fraction, ...]
    total: Fraction

    @property
    def lengths(self) -> tuple[Fraction, ...]:
        """Parts and total."""
        return (*self.parts, self.total)

    @property
    def judged(self) -> bool:
        """Whether all of it is printed on the step of a style: smaller lengths are printed finer."""
        return len(self.parts) > 1 and all(length >= FINE_MM for length in self.lengths)


def settled(style: LengthStyle, chains: Sequence[Chain]) -> LengthStyle:
    """The style, with each length of the chains rounded up or down so that as many chains as can be add up.

    An exact length is never changed and no length by a whole step; of what adds up, the nearest is taken. A style
    in two units settles both, each by itself.
    """
    rounded, _ = _settle(style, chains)
    also = settled(style.also, chains) if style.also else None
    return replace(style, settled=tuple(sorted(rounded.items())), also=also)


def settled_finely(style: LengthStyle, chains: Sequence[Chain]) -> LengthStyle:
    """The style, with lengths of chains that it prints in thousandths of an inch rounded so that these add up as well.

    A style in two units settles both.
    """
    also = settled_finely(style.also, chains) if style.also else None
    own = replace(style, also=None)
    fine = [c for c in chains if len(c.parts) > 1 and all(is_in_thousandths(mm, own) for mm in c.lengths)]
    thousandths = LengthStyle("in", THOUSANDTH, decimal=True)
    held: list[Chain] = []
    for chain in fine:
        if _solve([*held, chain], thousandths) is not None:
            held.append(chain)
    found = _solve(held, thousandths) or {}
    moved = {mm: steps * THOUSANDTH for mm, steps in found.items() if steps != in_steps(mm, thousandths)}
    return replace(style, fixed=tuple(sorted(moved.items())), also=also)


def settled_in_rows(style: LengthStyle, rows: Sequence[Chain], kept: Collection[Fraction] = ()) -> LengthStyle:
    """The style, with places of rows and how far they lie apart rounded to half a step so that they add up as printed.

    A chain stays as it is if one of its lengths (mm) is to be `kept`, has thousandths, or is rounded for another sum.
    A style in two units settles both.
    """
    also = settled_in_rows(style.also, rows, kept) if style.also else None
    own = replace(style, also=None)
    if style.unit == "mm" or style.decimal:
        return replace(style, also=also)
    bound = {*kept, *(length for length, _ in (*style.settled, *style.fixed))}
    free = [c for c in rows if c.judged and not any(mm in bound or is_in_thousandths(mm, own) for mm in c.lengths)]
    half = LengthStyle("in", style.step / 2)
    held: list[Chain] = []
    for chain in free:
        if _solve([*held, chain], half) is not None:
            held.append(chain)
    moved = {mm: steps * half.step for mm, steps in (_solve(held, half) or {}).items()}
    return replace(style, fixed=tuple(sorted({**moved, **dict(style.fixed)}.items())), also=also)


def unsettled(style: LengthStyle, chains: Sequence[Chain]) -> tuple[Chain, ...]:
    """The chains that do not add up as printed in the style (of two units, the first), however they are rounded."""
    return _settle(style, chains)[1]


def _settle(style: LengthStyle, chains: Sequence[Chain]) -> tuple[dict[Fraction, int], tuple[Chain, ...]]:
    """What the lengths are rounded to, in steps, where that is not the nearest; and the chains that failed."""
    held: list[Chain] = []
    left: list[Chain] = []
    for chain in (chain for chain in chains if chain.judged):
        (held if _solve([*held, chain], style) is not None else left).append(chain)
    found = _solve(held, style) or {}
    return {mm: int(steps) for mm, steps in found.items() if steps != in_steps(mm, style)}, tuple(left)


def _solve(chains: Sequence[Chain], style: LengthStyle) -> dict[Fraction, Fraction] | None:
    """Steps for every length, so that all chains add up with the least sum of squared errors; None if none is found."""
    lengths = tuple(dict.fromkeys(length for chain in chains for length in chain.lengths))
    step = per_step(style)
    choices = [_choices(length, style) for length in lengths]
    place = {length: n for n, length in enumerate(lengths)}
    sums = [_coefficients(chain, place) for chain in chains]
    search = _Search(choices, [length / step for length in lengths], sums)
    search.run(0, Fraction(0))
    return dict(zip(lengths, search.best, strict=True)) if search.best is not None else None


def _choices(length: Fraction, style: LengthStyle) -> tuple[Fraction, ...]:
    """What a length may be printed as, in steps, the nearest first: exactly if it can be, else down or up."""
    steps = length / per_step(style)
    down = Fraction(steps.numerator // steps.denominator)
    if steps == down:
        return (down,)
    ways = (down, down + 1) if steps - down <= Fraction(1, 2) else (down + 1, down)
    return (steps, *ways) if in_steps(length, style) == steps else ways


def _coefficients(chain: Chain, place: Mapping[Fraction, int]) -> dict[int, int]:
    found: dict[int, int] = {}
    for length, sign in ((chain.total, -1), *((part, 1) for part in chain.parts)):
        found[place[length]] = found.get(place[length], 0) + sign
    return found


class _Search:
    """All roundings in turn, the nearest first, cut short where a sum can no longer come to nothing."""

    def __init__(self, choices: Sequence[tuple[Fraction, ...]], wanted: Sequence[Fraction], sums: list[dict[int, int]]):
        self.choices, self.wanted, self.sums = choices, wanted, sums
        self.picked = [options[0] for options in choices]
        self.best: list[Fraction] | None = None
        self.cost = Fraction(0)
        self.tries = 0

    def run(self, at: int, cost: Fraction) -> None:
        """Choose for the length `at` and all after it, having spent `cost` so far."""
        self.tries += 1
        if self.tries > MOST_TRIES or (self.best is not None and cost >= self.cost) or not self._may(at):
            return
        if at == len(self.choices):
            self.best, self.cost = list(self.picked), cost
            return
        for option in self.choices[at]:
            self.picked[at] = option
            self.run(at + 1, cost + (option - self.wanted[at]) ** 2)
        self.picked[at] = self.choices[at][0]

    def _may(self, at: int) -> bool:
        return all(low <= 0 <= high for low, high in self._ranges(at))

    def _ranges(self, at: int) -> Iterator[tuple[Fraction, Fraction]]:
        """The least and the most that each sum can still come to."""
        for terms in self.sums:
            ends = [
                (sign * self.picked[n],) * 2 if n < at else sorted(sign * c for c in self.choices[n])
                for n, sign in terms.items()
            ]
            yield sum((end[0] for end in ends), Fraction(0)), sum((end[-1] for end in ends), Fraction(0))
