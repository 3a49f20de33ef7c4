"""Formulas over sizes and pieces: parsed once, evaluated whenever the sizes are known (never as Python)."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache

from planbook.units.literal import check_length, match_alone
from planbook.units.problem import UnitProblem
from planbook.units.program import Constant, Measure, MeasureOf, Program, SizeOf, Use, no_pieces, run
from planbook.units.quantity import Quantity

__all__ = ["Formula", "Measure", "Use", "parse_formula"]


@dataclass(frozen=True, slots=True)
class Formula:
    """A parsed formula: its text, the sizes and pieces it uses in order of appearance, and its steps."""

    text: str
    names: tuple[Use, ...]
    measures: tuple[Measure, ...]
    program: Program = field(repr=False)

    def evaluate(self, size: SizeOf, measure: MeasureOf = no_pieces, known: Iterable[str] = ()) -> Quantity:
        """Compute the formula exactly: lengths in millimetres, angles in degrees.

        `size(name)` gives a named size and `measure(what, name)` an extent of a piece or the kerf of a saw, or
        None if there is none; names come in lower case, pieces as written. `known` are the names to suggest from.
        Raises UnitProblem: unknown-name, unit-mismatch, division-by-zero, out-of-range, not-finite.
        """
        return run(self.program, size, measure, known)


@lru_cache(maxsize=4096)
def parse_formula(text: str) -> Formula:
    """Parse a formula of at most 500 characters.

    Raises UnitProblem: syntax, unknown-function, unknown-unit, wrong-argument-count, too-deep, too-long,
    out-of-range and division-by-zero (in a literal).
    """
    check_length(text)
    try:
        program = _program(text)
    except UnitProblem as problem:
        if problem.kind != "unknown-unit":
            raise
        message = f"{problem.message}; to multiply, write `*` before it"
        raise UnitProblem(problem.kind, message, problem.offset, problem.length, problem.facts) from None
    names = tuple(step for step in program if isinstance(step, Use))
    measures = tuple(step for step in program if isinstance(step, Measure))
    return Formula(text, names, measures, program)


def _program(text: str) -> Program:
    """Take the short way for a lone literal, which most fields are; only then is the grammar loaded."""
    alone = match_alone(text)
    if alone is not None:
        shown = text.strip()
        return (Constant(alone, text.index(shown), len(shown)),)
    from planbook.units.grammar import parse

    return parse(text)
