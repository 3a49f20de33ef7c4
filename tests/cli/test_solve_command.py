"""`planbook solve`: the answer in words and in the units asked for, and findings where there is none."""

import json

import pytest

from .conftest import holding

TOML = """title = "Test"
version = "1"
maker = "Saltmarsh Workshop"
units = "mm"

[varies]
thickness = "0 mm"
humidity = [45, 45]

[sizes]
"end play" = "2 mm"
knob = "9 mm"

[stock.panel]
wood = "black cherry"
size = ["60 mm", "knob", "10 mm"]
at = ["end play", "0 mm", "0 mm"]
grain = "x"

[stock.rail]
wood = "sugar maple"
size = ["20 mm", "20 mm", "10 mm"]
at = ["-20 mm", "0 mm", "0 mm"]
grain = "y"

[fits."has room"]
kind = "gap"
between = ["panel", "rail"]
least = "0.5 mm"
"""
tray = holding(TOML)


def test_the_answer_is_a_sentence(command, tray):
    ran = command("solve", "--quiet", tray, "End  Play", "has room")
    assert ran.status == 0
    assert ran.out.splitlines() == [
        "`end play` = 0.5 mm is the smallest with which fit `has room` holds; the design has 2 mm",
        "it is tightest as drawn: 0 mm to spare; 0.01 mm less fails",
    ]


def test_it_is_written_in_the_units_asked_for(command, tray):
    ran = command("solve", "--quiet", "--units", "in", tray, "end play", "has room")
    assert "`end play` = 0.02 in is the smallest" in ran.out


def test_names_that_do_not_exist_are_answered_with_near_ones(command, tray):
    ran = command("solve", "--format", "json", tray, "endplay", "has rooms")
    assert ran.status == 1
    found = json.loads(ran.out)
    assert [each["code"] for each in found] == ["SOL01", "SOL02"]
    assert "`end play`" in found[0]["hint"]
    assert "`has room`" in found[1]["hint"]


def test_a_size_that_does_not_matter_is_a_finding_at_the_size(command, tray):
    ran = command("solve", "--format", "lines", tray, "knob", "has room")
    assert ran.status == 1
    assert ran.out.splitlines()[0].endswith(
        "design.toml:12:1: error SOL04 size-does-not-matter: fit `has room` does not depend on size `knob`"
    )


def test_no_value_in_the_bounds(command, tray):
    ran = command("solve", tray, "end play", "has room", "--above", "1 mm", "--below", "1.5 mm")
    assert ran.status == 1
    assert (
        "error[SOL03] no-value-holds: fit `has room` holds for every value of size `end play` from 1 mm to" in ran.out
    )


def test_a_design_that_cannot_be_built_is_told_as_a_check_would(command, tray):
    steps = tray / "steps.md"
    steps.write_text(steps.read_text("utf-8").replace('"rail"]', '"raill"]'), "utf-8")
    ran = command("solve", tray, "end play", "has room")
    assert ran.status == 1
    assert "stock-unknown" in ran.out


def test_a_fit_that_asks_for_nothing_that_can_be_measured(command, tray):
    (tray / "design.toml").write_text(TOML.replace('["panel", "rail"]', '["panel", "lid"]'), "utf-8")
    ran = command("solve", tray, "end play", "has room")
    assert ran.status == 1
    assert "SOL05" in ran.out


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (("--above", "two"), "--above is `two`"),
        (("--above", "3 mm", "--below", "2 mm"), "there is nothing above 3 mm and below 2 mm"),
    ],
)
def test_bounds_that_are_none_are_refused(command, tray, options, sentence):
    ran = command("solve", tray, "end play", "has room", *options)
    assert ran.status == 2
    assert sentence in ran.err
