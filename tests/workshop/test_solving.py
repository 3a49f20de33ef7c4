"""The size with which a fit just holds over the envelope, against closed forms."""

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from planbook.handbook import emc
from planbook.model import Design
from planbook.reader import read_design
from planbook.workshop import Setting
from planbook.workshop.solving import Solved, Unsolved, solve

TOML = """
title = "Test"
version = "1"
maker = "Saltmarsh Workshop"
units = "mm"

[varies]
thickness = "0 mm"
humidity = [25, 65]
built_at = 45

[sizes]
play = "2 mm"
width = "200 mm"
knob = "9 mm"

[stock.panel]
wood = "black cherry"
size = ["60 mm", "width", "10 mm"]
at = ["0 mm", "play", "0 mm"]
grain = "x"

[stock.rail]
wood = "sugar maple"
size = ["60 mm", "20 mm", "knob + 1 mm"]
at = ["0 mm", "-20 mm", "0 mm"]
grain = "y"

[fits."has room"]
kind = "gap"
between = ["panel", "rail"]
least = "0.5 mm"

[fits."is close"]
kind = "gap"
between = ["panel", "rail"]
most = "1.5 mm"
"""
STEPS = '# Test\n\n## Mill\n\n```mill\nboards = ["panel", "rail"]\n```\n'
C_CHERRY = 0.00248
"""Tangential change of black cherry per point of moisture, Wood Handbook, USDA FPL-GTR-190 (2010), Table 13-5."""


@pytest.fixture
def design(tmp_path: Path) -> Design:
    (tmp_path / "design.toml").write_text(TOML, "utf-8")
    (tmp_path / "steps.md").write_text(STEPS, "utf-8")
    read = read_design(tmp_path).design
    assert read is not None
    return read


def points(humidity: float) -> float:
    return emc(humidity, 20) - emc(0.45, 20)


def up(value: float) -> Fraction:
    return Fraction(-int(-value * 100 // 1), 100)


def solved(answer: Solved | Unsolved) -> Solved:
    assert isinstance(answer, Solved), answer
    return answer


def test_the_smallest_play_for_a_board_that_swells(design: Design) -> None:
    """Half of the board's growth at 65 %, and what is asked, rounded up to a hundredth."""
    answer = solved(solve(design, "play", design.fits["has room"]))
    assert answer.value.value == up(0.5 + 100 * C_CHERRY * points(0.65))
    assert answer.rising
    assert answer.corner == (Setting("humidity", 65.0),)
    assert answer.margin >= -1e-4
    assert answer.beside < -1e-4


def test_the_largest_play_where_the_gap_may_be_no_more(design: Design) -> None:
    answer = solved(solve(design, "play", design.fits["is close"]))
    assert answer.value.value == up(1.5 + 100 * C_CHERRY * points(0.25)) - Fraction(1, 100)
    assert not answer.rising
    assert answer.corner == (Setting("humidity", 25.0),)


def test_the_largest_board_that_swells_no_more_than_there_is_room(design: Design) -> None:
    """2 - width C points / 2 = 0.5."""
    answer = solved(solve(design, "width", design.fits["has room"]))
    exact = 2 * (2 - 0.5) / (C_CHERRY * points(0.65))
    assert exact - 0.021 <= float(answer.value.value) <= exact + 0.021
    assert not answer.rising


def test_a_size_that_does_not_matter(design: Design) -> None:
    answer = solve(design, "knob", design.fits["has room"])
    assert isinstance(answer, Unsolved)
    assert answer.why == "does not depend"


@pytest.mark.parametrize(
    ("above", "below", "holds"),
    [(Fraction(3), None, True), (None, Fraction(1), False), (Fraction(3), Fraction(4), True)],
)
def test_bounds_that_leave_no_answer(
    design: Design, above: Fraction | None, below: Fraction | None, holds: bool
) -> None:
    answer = solve(design, "play", design.fits["has room"], above, below)
    assert isinstance(answer, Unsolved)
    assert answer.why == "none found"
    assert answer.low_margin is not None
    assert (answer.low_margin > 0) == holds


Solve = Callable[..., Solved | Unsolved]


def test_bounds_around_the_answer_do_not_change_it(design: Design) -> None:
    fit = design.fits["has room"]
    assert solve(design, "play", fit, Fraction(1, 2), Fraction(5)) == solve(design, "play", fit)
