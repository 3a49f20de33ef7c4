"""Measures in words: in the units of the design, always with a unit, fine enough to be told apart."""

from dataclasses import replace
from pathlib import Path
from typing import Literal

import pytest

from planbook.reader import read_design
from planbook.review.say import Say, bench_note, name_list, short
from planbook.workshop import Timeline
from planbook.workshop.run import build

CASE = Path(__file__).parents[1] / "cases" / "review" / "pieces"


@pytest.fixture(scope="module")
def built() -> Timeline:
    design = read_design(CASE).design
    assert design is not None
    return build(design)


def _say(built: Timeline, units: Literal["in", "mm"]) -> Say:
    card = replace(built.design.card, units=units)
    return Say(replace(built, design=replace(built.design, card=card)))


@pytest.mark.parametrize(
    ("mm", "metric", "inches"),
    [
        (25.4, "25.4 mm", "1 in"),
        (88.9, "88.9 mm", "3 1/2 in"),
        (0.0, "0 mm", "0 in"),
        (-1.0, "-1 mm", "-3/64 in"),
        (0.04, "0.04 mm", "0.0016 in"),
        (1e-7, "0 mm", "0 in"),
        (1200.0, "1200 mm", "47 1/4 in"),
    ],
)
def test_lengths(built: Timeline, mm: float, metric: str, inches: str) -> None:
    assert _say(built, "mm").length(mm) == metric
    assert _say(built, "in").length(mm) == inches


def test_two_lengths_that_would_read_alike_are_told_apart(built: Timeline) -> None:
    assert _say(built, "mm").pair(5.0, 6.0) == ("5 mm", "6 mm")
    assert _say(built, "mm").pair(0.394, 0.4) == ("0.394 mm", "0.4 mm")
    assert _say(built, "in").pair(0.79, 0.81) == ("0.0311 in", "0.0319 in")


@pytest.mark.parametrize(
    ("mm3", "metric", "inches"),
    [
        (47_400.0, "47.4 cm³", "2.89 in³"),
        (360.0, "0.36 cm³", "0.022 in³"),
        (1_234_567.0, "1235 cm³", "75.3 in³"),
        (0.0, "0 cm³", "0 in³"),
        (0.6, "0.0006 cm³", "0.000037 in³"),
    ],
)
def test_volumes(built: Timeline, mm3: float, metric: str, inches: str) -> None:
    assert _say(built, "mm").volume(mm3) == metric
    assert _say(built, "in").volume(mm3) == inches


def test_sizes_and_spots(built: Timeline) -> None:
    assert _say(built, "mm").box((80.0, 20.0, 0.5)) == "80 mm × 20 mm × 0.5 mm"
    assert _say(built, "mm").spot((1.0, -2.0, 3.0)) == "x = 1 mm, y = -2 mm, z = 3 mm"


def test_what_a_piece_became_is_followed_to_the_bench(built: Timeline) -> None:
    say = Say(built)
    assert say.heirs("left", ("body",), ("body", "strip")) == ("body",)
    assert say.heirs("foot", ("foot layer", "foot rest"), ("foot rest",)) == ("foot rest",)
    assert say.heirs("left", ("body",), ()) == ()
    assert say.heirs("left", ("left",), ()) == ()


def test_how_a_piece_was_used_up(built: Timeline) -> None:
    say = Say(built)
    assert say.used_up("glue", ("side",)) == "glued it into `side`"
    assert say.used_up("discarded", ()) == "threw it away"
    assert say.used_up("discard", ()) == "threw it away"
    assert say.used_up("rip", ("a", "b")) == "made it into `a` and `b`"


def test_long_names_and_long_lists_are_cut() -> None:
    assert len(short("x" * 80)) == 62
    assert short("drum") == "`drum`"
    assert name_list(["a", "b", "c"], "and") == "`a`, `b` and `c`"
    assert name_list([str(n) for n in range(20)]).endswith("`7` and 12 more")
    assert bench_note([]) == ("the bench is empty now",)
    assert bench_note(["a"]) == ("on the bench now: `a`",)
