"""Finds the value of a size with which a fit just holds over the whole envelope; it says nothing about it.

A fit that grows (or shrinks) with a size is bisected at the corner that is worst for it; the answer is verified over
the whole envelope, and so is the value just beside it, which must fail. Where another corner turns out worse, the
search goes on from there.
"""

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from planbook.model import Design, Fit
from planbook.model.sizes import evaluate_sizes
from planbook.units import Quantity
from planbook.workshop.envelope import Prover, Side, singles
from planbook.workshop.memory import Memory
from planbook.workshop.timeline import Corner, Fitted

STEP = Fraction(1, 100)
"""Answers are multiples of this, mm (or degrees, or of one)."""
TOLERANCE = 1e-4
"""A measure this close (mm) to what is asked keeps it: more than joints overlap, less than anybody measures."""
WIDEST = 4
"""Times that the search is widened, twice as far each time, before it is given up."""
MOST_ROUNDS = 6

Why = Literal["no fit asked", "not measured", "does not depend", "none found"]


@dataclass(frozen=True, slots=True)
class Solved:
    """The answer: the value with which the fit just holds, and its worst margin (mm) there and just beside it.

    `rising` says that more of the size gives more margin, so that the answer is the smallest value that will do;
    otherwise it is the largest. `corner` is where the fit is worst with it.
    """

    value: Quantity
    rising: bool
    margin: float
    beside: float
    corner: Corner


@dataclass(frozen=True, slots=True)
class Unsolved:
    """Why there is no answer; the margins (mm) at the ends of the search where it was made."""

    why: Why
    low: Quantity | None = None
    high: Quantity | None = None
    low_margin: float | None = None
    high_margin: float | None = None


@dataclass(eq=False)
class Search:
    """Margins of one fit of a design for values of one size (`name` as in the design)."""

    design: Design
    name: str
    fit: Fit
    given: Quantity
    memory: Memory = field(default_factory=Memory)
    _provers: dict[Fraction, Prover | None] = field(default_factory=dict)

    def prover(self, value: Fraction) -> Prover | None:
        """The builds with a value of the size; None where its sizes do not come out or the build breaks."""
        if value not in self._provers:
            sizes, problems = evaluate_sizes(self.design, {self.name: self.given.with_value(value)})
            made = None if problems else Prover(self.design, sizes, self.fit.name, self.memory)
            if made is not None and len(made.finished(()).timeline.events) < len(self.design.operations):
                made = None
            self._provers[value] = made
        return self._provers[value]

    def at(self, value: Fraction, corner: Corner) -> float | None:
        """The margin at one corner; None where the build breaks."""
        prover = self.prover(value)
        return _margin(prover.measured(corner, self.fit)) if prover else None

    def everywhere(self, value: Fraction) -> tuple[float | None, Corner]:
        """The least margin over the envelope, and its corner."""
        prover = self.prover(value)
        if prover is None:
            return None, ()
        spreads = prover.spreads()
        sides: tuple[Side, Side] = ("least", "most")
        corners = [*singles(spreads), *(prover.worst(self.fit, side, spreads) for side in sides)]
        margins = [(_margin(prover.measured(corner, self.fit)), corner) for corner in corners]
        if any(margin is None for margin, _ in margins):
            return None, next(corner for margin, corner in margins if margin is None)
        return min(((margin, corner) for margin, corner in margins if margin is not None), key=lambda each: each[0])


def solve(
    design: Design, name: str, fit: Fit, above: Fraction | None = None, below: Fraction | None = None
) -> Solved | Unsolved:
    """The smallest (or largest) value of a size, to 0.01 mm, with which a fit holds over the whole envelope.

    `above` and `below` bound the search; it starts from the value in the design. The size must be a name of the
    design as written and have a value.
    """
    given = evaluate_sizes(design)[0][name]
    search = Search(design, name, fit, given)
    if not any(field in fit.fields for field in ("least", "most", "within")):
        return Unsolved("no fit asked")
    start = _inside(round(given.value / STEP) * STEP, above, below)
    margin, corner = search.everywhere(start)
    if margin is None and search.at(start, ()) is None:
        return Unsolved("not measured", given.with_value(start))
    if margin is None:
        # The build breaks at a corner: that is no fit either, and the nominal one shows which way is better.
        corner = ()
    rising = _direction(search, start, corner)
    if rising is None:
        return Unsolved("does not depend", given.with_value(start), given.with_value(start), margin, margin)
    bracket = _bracket(search, start, margin, corner, rising, above, below)
    if isinstance(bracket, Unsolved):
        return bracket
    return _closed_in(search, *bracket, rising)


def _closed_in(search: Search, holds: Fraction, fails: Fraction, rising: bool) -> Solved | Unsolved:
    """Bisect between a value that holds and one that fails, and verify both over the whole envelope."""
    step = STEP if rising else -STEP
    answer, corner = holds, search.everywhere(holds)[1]
    for _ in range(MOST_ROUNDS):
        answer = _bisected(search, corner, answer, fails)
        margin, worst = search.everywhere(answer)
        if margin is not None and _holds(margin):
            beside, beside_at = search.everywhere(answer - step)
            if not _holds(beside):
                return Solved(
                    search.given.with_value(answer), rising, margin, -1.0 if beside is None else beside, worst
                )
            # Just beside it the fit holds everywhere: the corner looked at was not the worst there.
            answer, corner = answer - step, beside_at
        else:
            fails, answer, corner = answer, holds, worst
    return Unsolved(
        "none found", search.given.with_value(min(holds, fails)), search.given.with_value(max(holds, fails))
    )


def _bisected(search: Search, corner: Corner, holds: Fraction, fails: Fraction) -> Fraction:
    """At one corner, the last multiple of STEP that holds on the way from a value that does to one that does not."""
    while abs(holds - fails) > STEP:
        middle = round((holds + fails) / 2 / STEP) * STEP
        if middle in (holds, fails):
            break
        if _holds(search.at(middle, corner)):
            holds = middle
        else:
            fails = middle
    return holds


def _direction(search: Search, start: Fraction, corner: Corner) -> bool | None:
    """Whether the margin grows with the size; None where it does not change. The bounds do not matter for this."""
    here = search.at(start, corner)
    for by in (Fraction(1, 10), Fraction(-1, 10), Fraction(1), Fraction(-1)):
        other = start + by
        there = search.at(other, corner) if other > 0 else None
        if here is not None and there is not None and abs(there - here) > 1e-4:
            return (there > here) == (other > start)
    return None


def _bracket(
    search: Search,
    start: Fraction,
    margin: float | None,
    corner: Corner,
    rising: bool,
    above: Fraction | None,
    below: Fraction | None,
) -> tuple[Fraction, Fraction] | Unsolved:
    """A value that holds over the whole envelope and one that does not, on the two sides of the answer."""
    held = _holds(margin)
    onward = -1 if held == rising else 1
    reach = max(abs(start) / 8, Fraction(1, 2))
    near = start
    for _ in range(WIDEST):
        far = _inside(round((start + onward * reach) / STEP) * STEP, above, below)
        far = max(far, STEP)
        there = search.everywhere(far)[0] if not held else search.at(far, corner)
        if held and not _holds(there):
            return near, far
        if not held and _holds(there):
            return far, near
        if held or there is not None:
            near = far
        if far in (above, below, STEP):
            break
        reach *= 2
    ends = sorted((start, far))
    margins = [search.everywhere(end)[0] for end in ends]
    return Unsolved("none found", search.given.with_value(ends[0]), search.given.with_value(ends[1]), *margins)


def _inside(value: Fraction, above: Fraction | None, below: Fraction | None) -> Fraction:
    if above is not None:
        value = max(value, above)
    return value if below is None else min(value, below)


def _holds(margin: float | None) -> bool:
    return margin is not None and margin >= -TOLERANCE


def _margin(found: Fitted | None) -> float | None:
    """How far a fit is from failing, mm; negative where it fails."""
    if found is None:
        return None
    margins = []
    if found.asked_least is not None and found.least is not None:
        margins.append(found.least - found.asked_least)
    if found.asked_most is not None and found.most is not None:
        margins.append(found.asked_most - found.most)
    return min(margins, default=None)
