"""The values of a design's sizes, computed from their formulas in any order; not what they may be."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from planbook.model.design import Design, Expr, Size
from planbook.text import Place
from planbook.units import ProblemKind, Quantity, UnitProblem, Use, near

MOST_CIRCLES = 20
MOST_HINTS = 50
MeasureOf = Callable[[str, str], Quantity | None]


@dataclass(frozen=True, slots=True)
class SizeProblem:
    """A size without a value and why. `problem` has the offset in the formula, `circle` the names that turn.

    `place` is the text of the formula; None for an override of a size that the design does not have.
    """

    size: str
    kind: ProblemKind | Literal["circle"]
    message: str
    place: Place | None
    problem: UnitProblem | None = None
    circle: tuple[str, ...] = ()


def folded(name: str) -> str:
    """A name as formulas know it: lower case with single blanks."""
    return " ".join(name.lower().split())


def evaluate(expr: Expr, sizes: Mapping[str, Quantity], measure: MeasureOf | None = None) -> Quantity:
    """Compute an expression from known sizes; `measure(what, piece)` gives an extent of a piece or None.

    Lengths are in mm, angles in degrees. Raises UnitProblem.
    """

    def size_of(name: str) -> Quantity | None:
        found = sizes.get(name)
        if found is None:
            found = next((value for key, value in sizes.items() if folded(key) == name), None)
        return found

    if measure is None:
        return expr.formula.evaluate(size_of, known=sizes)
    return expr.formula.evaluate(size_of, measure, known=sizes)


def evaluate_sizes(
    design: Design | Mapping[str, Size], overrides: Mapping[str, Quantity] | None = None
) -> tuple[dict[str, Quantity], tuple[SizeProblem, ...]]:
    """Every size that has a value, in the order of the file, and what is wrong with the others.

    An overridden size takes the value given instead of its formula. A size made from a broken one is left
    out without a problem of its own. Sizes may be lengths, angles or plain numbers.
    """
    sizes = design.sizes if isinstance(design, Design) else design
    index: dict[str, str] = {}
    for name in sizes:
        index.setdefault(folded(name), name)
    known, problems = _overridden(index, overrides or {})
    needs = {name: () if name in known else _needs(size, index) for name, size in sizes.items()}
    order, circles = in_order_of_need(needs)
    problems += [_circular(circle, sizes) for circle in circles]
    by_fold = {folded(name): value for name, value in known.items()}
    for name in order:
        if name in known:
            continue
        names = index.values() if len(problems) < MOST_HINTS else ()
        value, found = _value(sizes[name], by_fold, index, names)
        problems += found
        if value is not None:
            known[name] = value
            by_fold.setdefault(folded(name), value)
    return {name: known[name] for name in sizes if name in known}, tuple(problems)


def in_order_of_need(
    needs: Mapping[str, Iterable[str]],
) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Names so that each comes after those it needs, and the circles found: `a -> b -> a` as ("a", "b").

    Names in a circle are left out of the order; names that merely need one of them are kept. Needs that are
    not keys of `needs` are passed over.
    """
    order: dict[str, None] = {}
    circles: list[tuple[str, ...]] = []
    caught: set[str] = set()
    for start in needs:
        path: dict[str, None] = {}
        pending: list[tuple[str, bool]] = [(start, False)]
        while pending:
            name, leaving = pending.pop()
            if leaving:
                path.pop(name)
                order[name] = None
            elif name in path:
                last = next(reversed(path))
                if len(circles) < MOST_CIRCLES and not (name in caught and last in caught):
                    circles.append(_circle(path, name))
                    caught.update(circles[-1])
                caught.add(last)
            elif name in needs and name not in order:
                path[name] = None
                pending.append((name, True))
                pending.extend((need, False) for need in reversed(tuple(needs[name])))
    return tuple(name for name in order if name not in caught), tuple(circles)


def _circle(path: Mapping[str, None], name: str) -> tuple[str, ...]:
    names = tuple(path)
    return names[names.index(name) :]


def _overridden(
    index: Mapping[str, str], overrides: Mapping[str, Quantity]
) -> tuple[dict[str, Quantity], list[SizeProblem]]:
    known: dict[str, Quantity] = {}
    problems: list[SizeProblem] = []
    for name, value in overrides.items():
        if folded(name) in index:
            known[index[folded(name)]] = value
        else:
            facts = {"name": name, "near": ", ".join(near(name, index.values())), "of": "size"}
            problem = UnitProblem("unknown-name", f"no size is called `{name}`", facts=facts)
            problems.append(SizeProblem(name, problem.kind, problem.message, None, problem))
    return known, problems


def _needs(size: Size, index: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(index[use.name] for use in size.expr.formula.names if use.name in index))


def _value(
    size: Size, by_fold: Mapping[str, Quantity], index: Mapping[str, str], names: Iterable[str]
) -> tuple[Quantity | None, list[SizeProblem]]:
    unknown = [use for use in size.expr.formula.names if use.name not in index]
    if unknown:
        return None, [_unknown(size, use, names) for use in unknown]
    if any(use.name not in by_fold for use in size.expr.formula.names):
        return None, []
    try:
        return size.expr.formula.evaluate(by_fold.get), []
    except UnitProblem as problem:
        return None, [SizeProblem(size.name, problem.kind, problem.message, size.expr.place, problem)]


def _unknown(size: Size, use: Use, names: Iterable[str]) -> SizeProblem:
    facts = {"name": use.name, "near": ", ".join(near(use.name, names)), "of": "size"}
    problem = UnitProblem("unknown-name", f"no size is called `{use.name}`", use.offset, use.length, facts)
    return SizeProblem(size.name, problem.kind, problem.message, size.expr.place, problem)


def _circular(circle: tuple[str, ...], sizes: Mapping[str, Size]) -> SizeProblem:
    words = " -> ".join((*circle, circle[0]))
    message = f"size `{circle[0]}` is made from itself: {words}"
    return SizeProblem(circle[0], "circle", message, sizes[circle[0]].expr.place, None, circle)
