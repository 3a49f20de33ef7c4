"""Checks formulas of `design.toml` against the sizes: names, kinds of value, ranges; it knows no table."""

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from planbook.model import Expr, Size
from planbook.model.sizes import SizeProblem, evaluate, evaluate_sizes, folded
from planbook.reader import kinds
from planbook.reader.fields import Asked, Found
from planbook.reader.words import did_you_mean, thing
from planbook.text import Aside, Finding, Kind, Place, Source
from planbook.units import (
    MM_TENTH,
    LengthStyle,
    ProblemKind,
    Quantity,
    UnitProblem,
    show_quantity,
)

FARTHEST = Fraction(100_000)
"""100 m in mm: no length of a design is longer."""

MOST_LINKS = 5

_KINDS: Mapping[ProblemKind, Kind] = {
    "syntax": kinds.FORMULA_SYNTAX,
    "wrong-argument-count": kinds.FORMULA_SYNTAX,
    "unknown-unit": kinds.UNKNOWN_UNIT,
    "unknown-function": kinds.UNKNOWN_FUNCTION,
    "unknown-name": kinds.UNKNOWN_SIZE,
    "unit-mismatch": kinds.UNIT_MISMATCH,
    "division-by-zero": kinds.DIVISION_BY_ZERO,
    "too-deep": kinds.FORMULA_TOO_LARGE,
    "too-long": kinds.FORMULA_TOO_LARGE,
    "out-of-range": kinds.OUT_OF_RANGE,
    "not-finite": kinds.NOT_FINITE,
}
_AN = {"length": "a length", "angle": "an angle"}


def formula_finding(problem: UnitProblem, place: Place, said: str, source: Source) -> Finding:
    """A problem of a formula as a finding at its own characters; `said` is what the formula is for."""
    close = tuple(filter(None, problem.facts.get("near", "").split(", ")))
    return _KINDS[problem.kind].at(
        within(place, problem.offset, problem.length, source),
        f"in {said}, {problem.message}",
        hint=did_you_mean(close),
    )


def within(place: Place, offset: int, length: int, source: Source) -> Place:
    """Characters of a text; the whole of it where it was written with escapes or over several lines."""
    before = source.line(place.line)[place.column - 1 : place.column]
    return place if before in ('"', "'") and place.length > 1 else place.within(offset, length)


def check_sizes(
    sizes: Mapping[str, Size], declared: Iterable[str], source: Source
) -> tuple[dict[str, Quantity], list[Finding]]:
    """The values of the sizes, and findings; `declared` also names those that could not be read."""
    known = {folded(name) for name in declared}
    early = {size.name: list(_measures(size.expr, f"size `{size.name}`", source)) for size in sizes.values()}
    readable = {name: size for name, size in sizes.items() if not early[name]}
    values, problems = evaluate_sizes(readable)
    findings = [finding for each in early.values() for finding in each]
    findings += [_size_finding(p, sizes, source) for p in problems if not _follows(p, known)]
    for name, value in values.items():
        findings += _size_range(sizes[name], value)
    return values, findings


def _follows(problem: SizeProblem, declared: set[str]) -> bool:
    """A size that could not be read has its own finding; those who use it need none."""
    inner = problem.problem
    return inner is not None and inner.kind == "unknown-name" and inner.facts.get("name") in declared


def _size_finding(problem: SizeProblem, sizes: Mapping[str, Size], source: Source) -> Finding:
    size = sizes[problem.size]
    if problem.problem is not None:
        return formula_finding(problem.problem, size.expr.place, f"size `{size.name}`", source)
    also = [Aside(sizes[name].place, f"made from `{following}`") for name, following in _links(problem.circle)]
    return kinds.CIRCULAR_SIZE.at(size.place, problem.message, label="made from itself", also=also)


def _links(circle: tuple[str, ...]) -> list[tuple[str, str]]:
    """The sizes of a circle after the first, each with the one it is made from; cut short if it is long."""
    return list(zip(circle, (*circle[1:], circle[0]), strict=True))[1 : 1 + MOST_LINKS]


def _size_range(size: Size, value: Quantity) -> Iterator[Finding]:
    if not value.is_length:
        return
    if abs(value.value) > FARTHEST:
        yield _too_far(size.expr.place, f"size `{size.name}`")
    elif value.value <= 0:
        headline = f"size `{size.name}` is {_shown(value)}"
        yield kinds.SIZE_NOT_ABOVE_ZERO.at(size.expr.place, headline)


def check_formulas(
    found: Found, values: Mapping[str, Quantity], declared: Iterable[str], source: Source
) -> Iterator[Finding]:
    """What is wrong with the formulas of all tables; a formula that uses a broken size is passed over."""
    names = tuple(declared)
    known = {folded(name) for name in names}
    by_fold = {folded(name): value for name, value in values.items()}
    for asked in found.formulas:
        said = thing(asked.path)
        early = list(_measures(asked.expr, said, source))
        unknown = [use for use in asked.expr.formula.names if use.name not in known]
        for use in unknown:
            facts = {"name": use.name, "near": ", ".join(found.near(use.name, names))}
            message = f"no size is called `{use.name}`"
            problem = UnitProblem("unknown-name", message, use.offset, use.length, facts)
            yield formula_finding(problem, asked.expr.place, said, source)
        yield from early
        if not early and all(use.name in by_fold for use in asked.expr.formula.names):
            yield from _value_findings(asked, by_fold, said, source)


def _measures(expr: Expr, said: str, source: Source) -> Iterator[Finding]:
    for measure in expr.formula.measures:
        if measure.what == "kerf":
            early = f"measures the kerf of `{measure.piece}`, which the reader only has at the bench"
        else:
            early = f"measures piece `{measure.piece}`, which does not exist before the build"
        yield kinds.MEASURE_TOO_EARLY.at(within(expr.place, measure.offset, measure.length, source), f"{said} {early}")


def _value_findings(asked: Asked, by_fold: Mapping[str, Quantity], said: str, source: Source) -> Iterator[Finding]:
    try:
        value = evaluate(asked.expr, by_fold)
    except UnitProblem as problem:
        yield formula_finding(problem, asked.expr.place, said, source)
        return
    place = asked.expr.place
    if not (value.is_length if asked.want.what == "length" else value.is_angle):
        yield _other_kind(asked, value, said)
    elif value.is_length and abs(value.value) > FARTHEST:
        yield _too_far(place, said)
    elif asked.want.least == "above zero" and value.value <= 0:
        yield kinds.NOT_ABOVE_ZERO.at(place, f"{said} is {_shown(value)}; it must be more than zero")
    elif asked.want.least == "zero" and value.value < 0:
        yield kinds.NOT_ABOVE_ZERO.at(place, f"{said} is {_shown(value)}; it must be zero or more")


def _other_kind(asked: Asked, value: Quantity, said: str) -> Finding:
    wanted = _AN[asked.want.what]
    if not value.is_number:
        return kinds.UNIT_MISMATCH.at(asked.expr.place, f"{said} comes to {value.kind_name}, not {wanted}")
    bare = asked.expr.formula.text.strip()
    unit = "deg" if asked.want.what == "angle" else "mm"
    literal = not asked.expr.formula.names and bare.replace(".", "", 1).isdigit()
    hint = f'write "{bare} {unit}"' if literal else ""
    headline = f"{said} comes to a number without a unit, not {wanted}"
    return kinds.NEEDS_UNIT.at(asked.expr.place, headline, label="which unit?", hint=hint)


def _too_far(place: Place, said: str) -> Finding:
    return kinds.OUT_OF_RANGE.at(place, f"{said} is more than 100 m")


def _shown(value: Quantity) -> str:
    style: LengthStyle = MM_TENTH
    return show_quantity(value, style)
