"""Whatever is typed, nothing but a UnitProblem comes out, and its place lies in the text."""

import pickle
from collections.abc import Callable
from fractions import Fraction
from typing import Any, get_args

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from planbook.units import (
    ProblemKind,
    Quantity,
    UnitProblem,
    parse_formula,
    read_length,
    read_minutes,
    read_quantity,
)

WORDS = [
    "wall", "drawer height", "width of", '"box"', "'box'", "“box”", "min", "sqrt(", "hypot(", "round(",
    "tan(", "atan2(", "pi", "(", ")", ",", "+", "-", "*", "/", "×", "−", "1", "0", "3.5", "1/2", "3-1/2", "½",
    "9" * 18, "in", "mm", "ft",
    "m", "deg", "°", "'", '"', "″", " ", "\u00a0", "\n", ".", "^", "İ", "ſ", "٣", "_",
    "h",
]  # fmt: skip
pieces_of_formulas = st.lists(st.sampled_from(WORDS), max_size=40).map(" ".join)
tight_formulas = st.lists(st.sampled_from(WORDS), max_size=20).map("".join)
typed = st.one_of(st.text(max_size=80), pieces_of_formulas, tight_formulas)

LENGTH, NUMBER = Quantity(Fraction(127, 7), length=1), Quantity(Fraction(3))


def evaluated(text: str) -> Quantity:
    sizes = {"wall": LENGTH, "drawer height": NUMBER}
    return parse_formula(text).evaluate(sizes.get, lambda _what, _piece: LENGTH, sizes)


def problem_in(read: Callable[[str], Any], text: str) -> UnitProblem | None:
    try:
        read(text)
    except UnitProblem as problem:
        return problem
    return None


READERS: list[Callable[[str], Any]] = [read_quantity, read_length, read_minutes, evaluated]


@settings(deadline=None, max_examples=400)
@given(text=typed)
@example("(" * 499)
@example("-" * 499)
@example("1" + "+1" * 249)
@example("sqrt(" * 99)
@example('"' * 500)
@example("a " * 250)
@example("1/" * 250)
@example("1 " * 250)
@example("width of " * 55)
@example("\ud800 + 1")
@example("x" * 1_000_000)
@pytest.mark.parametrize("read", READERS)
def test_nothing_but_a_unit_problem_is_raised(read: Callable[[str], Any], text: str) -> None:
    problem = problem_in(read, text)
    if problem:
        assert problem.kind in get_args(ProblemKind)
        assert problem.message
        assert problem.length >= 1
        assert 0 <= problem.offset <= max(0, len(text) - 1)
        assert problem.offset + problem.length <= max(1, len(text))


@settings(deadline=None, max_examples=200)
@given(text=tight_formulas)
def test_a_literal_alone_means_the_same_inside_brackets(text: str) -> None:
    """The short way for a lone literal and the grammar must agree wherever both read it."""
    try:
        alone, inside = evaluated(text), evaluated(f"({text})")
    except UnitProblem:
        return
    assert alone == inside


def test_a_problem_survives_pickling() -> None:
    problem = UnitProblem("syntax", "wrong", 3, 0, {"name": "wall"})
    again = pickle.loads(pickle.dumps(problem))
    assert (again.kind, again.message, again.offset, again.length, again.facts) == (
        "syntax",
        "wrong",
        3,
        1,
        {"name": "wall"},
    )
    assert str(again) == "wrong"
