"""Sizes computed from each other: order, circles, overrides, and what stays unknown."""

from fractions import Fraction

import pytest

from planbook.model import Expr, Size
from planbook.model.sizes import evaluate, evaluate_sizes, in_order_of_need
from planbook.text import Place
from planbook.units import Quantity, UnitProblem, parse_formula

PLACE = Place("design.toml", 1, 9, 4)


def sizes(**formulas: str) -> dict[str, Size]:
    named = {name.replace("_", " "): text for name, text in formulas.items()}
    return {name: Size(name, Expr(parse_formula(text), PLACE), PLACE) for name, text in named.items()}


def mm(value: int | str) -> Quantity:
    return Quantity(Fraction(value), length=1)


def test_any_order_and_any_letters() -> None:
    values, problems = evaluate_sizes(sizes(a="2 * Inner  Wall", Inner_Wall="b + 1 mm", b="1 in"))
    assert problems == ()
    assert values == {"a": mm("264/5"), "Inner Wall": mm("132/5"), "b": mm("127/5")}


def test_a_long_chain_is_no_trouble() -> None:
    chain = {f"s{n}": f"s{n + 1} + 1 mm" for n in range(5000)}
    values, problems = evaluate_sizes(sizes(**chain, s5000="1 mm"))
    assert (values["s0"], problems) == (mm(5001), ())


def test_circle_is_told_once_and_its_users_are_left_out() -> None:
    values, problems = evaluate_sizes(sizes(a="b", b="c", c="a", d="a + 1 mm", e="3 mm"))
    assert values == {"e": mm(3)}
    (problem,) = problems
    assert (problem.kind, problem.circle) == ("circle", ("a", "b", "c"))
    assert problem.message == "size `a` is made from itself: a -> b -> c -> a"


def test_every_unknown_name_is_told_with_near_ones() -> None:
    values, problems = evaluate_sizes(sizes(wall="1 mm", a="wal + gapp", b="a"))
    assert values == {"wall": mm(1)}
    assert [(p.size, p.kind, p.problem.facts["name"]) for p in problems if p.problem] == [
        ("a", "unknown-name", "wal"),
        ("a", "unknown-name", "gapp"),
    ]
    assert problems[0].problem is not None
    assert problems[0].problem.facts["near"] == "wall"


def test_override_takes_the_place_of_the_formula() -> None:
    values, problems = evaluate_sizes(sizes(wall="gap", gap="wall", rim="wall * 2"), {"Wall": mm(5)})
    assert problems == ()
    assert values == {"wall": mm(5), "gap": mm(5), "rim": mm(10)}


def test_override_of_an_unknown_size_is_a_problem_without_a_place() -> None:
    values, (problem,) = evaluate_sizes(sizes(wall="1 mm"), {"wal": mm(5)})
    assert values == {"wall": mm(1)}
    assert (problem.size, problem.kind, problem.place) == ("wal", "unknown-name", None)


def test_problem_of_a_formula_keeps_its_offset() -> None:
    _, (problem,) = evaluate_sizes(sizes(none="0 mm", a="1 mm / (none / 1 mm)"))
    assert problem.problem is not None
    assert (problem.kind, problem.problem.offset) == ("division-by-zero", 5)


def test_evaluate_measures_pieces() -> None:
    expr = Expr(parse_formula('width of "lid" - Wall'), PLACE)
    assert evaluate(expr, {"Wall": mm(2)}, lambda what, piece: mm(9) if what == "width" else None) == mm(7)
    with pytest.raises(UnitProblem, match="lid"):
        evaluate(expr, {"Wall": mm(2)})


def test_order_of_need() -> None:
    order, circles = in_order_of_need({"a": ("b", "c"), "b": ("c", "out"), "c": (), "d": ("d",), "e": ("d",)})
    assert order == ("c", "b", "a", "e")
    assert circles == (("d",),)


def test_circles_that_share_a_name_are_both_told() -> None:
    _, circles = in_order_of_need({"a": ("b", "c"), "b": ("a",), "c": ("a",)})
    assert circles == (("a", "b"), ("a", "c"))
