"""What cannot be laid out, or is asked for in a wrong way, is a trouble with its facts."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from planbook.takeoff.layout import Defect, Layout, Part, Problem, Stock, Trouble, solve, split

F = Fraction


def sheet_problem(*parts: Part, **changes: Any) -> Problem:
    stock = (Stock("ply", F(1220), F(2440), None, F(60)),)
    return replace(Problem("sheets", parts, stock, kerf=F(3), trim_edge=F(10), trim_end=F(10)), **changes)


def codes(layout: Layout) -> list[str]:
    return [trouble.code for trouble in layout.troubles]


def test_a_part_too_large_is_named_with_how_much() -> None:
    layout = solve(sheet_problem(Part("wall", F(1210), F(2440)), Part("shelf", F(300), F(600))))
    assert layout.troubles == (Trouble("part-too-large", ("wall",), (("over_width", F(10)), ("over_length", F(20)))),)
    assert [p.part for p in layout.sheets[0].placements] == ["shelf"]
    assert not layout.proved


def test_a_defect_can_make_a_part_too_large() -> None:
    knot = Defect(F(0), F(500), F(150), F(10))
    stock = (Stock("board", F(150), F(1000), None, None, (knot,)),)
    problem = Problem("boards", (Part("rail", F(100), F(600)),), stock)
    found = solve(problem).troubles[0]
    assert (found.code, dict(found.amounts)) == (
        "part-too-large",
        {"over_width": F(0), "over_length": F(100)},
    )


def test_a_group_no_stock_can_hold_is_named() -> None:
    problem = sheet_problem(Part("panel", F(1000), F(2000), 3, together="set"))
    layout = solve(problem)
    assert codes(layout) == ["group-too-large"]
    assert not layout.proved


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"kerf": F(-1)}, "bad-kerf"),
        ({"trim_edge": F(1)}, "bad-trim"),
        ({"parts": ()}, "no-parts"),
        ({"stock": ()}, "no-stock"),
        ({"parts": (Part("a", F(0), F(1)),)}, "bad-size"),
        ({"parts": (Part("a", F(1), F(9), 0),)}, "bad-count"),
        ({"parts": (Part("a", F(9), F(9)), Part("a", F(8), F(8)))}, "duplicate-part"),
        ({"stock": (Stock("s", F(9), F(99)), Stock("s", F(9), F(99)))}, "duplicate-stock"),
        ({"stock": (Stock("s", F(99), F(99), None, F(-1)),)}, "bad-price"),
        ({"stock": (Stock("s", F(15), F(99)),)}, "bad-size"),
        ({"parts": (Part("a", F(2), F(90)),)}, "kerf-larger-than-part"),
        ({"parts": (Part("a", F(20), F(90), 10**9),)}, "too-many-parts"),
    ],
)
def test_bad_input_is_a_trouble_and_never_an_error(changes: dict[str, Any], code: str) -> None:
    assert code in codes(solve(replace(sheet_problem(Part("shelf", F(300), F(600))), **changes)))


def test_a_missing_price_is_said_and_sheets_are_counted() -> None:
    stock = (Stock("a", F(1220), F(2440), None, F(60)), Stock("b", F(1220), F(1220)))
    layout = solve(sheet_problem(Part("shelf", F(300), F(600)), stock=stock))
    assert Trouble("prices-missing", ("b",)) in layout.troubles
    assert (layout.priced, layout.cost) == (False, 1)


def test_a_list_is_split_by_wood_and_thickness() -> None:
    parts = (
        Part("a", F(9), F(9), wood="oak", thickness=F(19)),
        Part("b", F(9), F(9), wood="ash", thickness=F(19)),
        Part("c", F(9), F(9), wood="oak", thickness=F(19)),
    )
    stock = (Stock("s", F(99), F(99), wood="oak", thickness=F(19)),)
    found = split(parts, stock)
    assert [(g.wood, [p.name for p in g.parts], len(g.stock)) for g in found] == [
        ("oak", ["a", "c"], 1),
        ("ash", ["b"], 0),
    ]
