"""`--nominal`: a design that holds as drawn and not through the year."""

from pathlib import Path

import pytest

TOML = """title = "Test"
version = "1"
maker = "Saltmarsh Workshop"
units = "mm"

[varies]
thickness = "0 mm"

[stock.panel]
wood = "black cherry"
size = ["200 mm", "60 mm", "10 mm"]
at = ["0.6 mm", "0 mm", "0 mm"]
grain = "y"

[stock.rail]
wood = "sugar maple"
size = ["20 mm", "60 mm", "10 mm"]
at = ["-20 mm", "0 mm", "0 mm"]
grain = "x"

[fits."has room"]
kind = "gap"
between = ["panel", "rail"]
least = "0.5 mm"
"""
STEPS = '# Test\n\n## Mill\n\nMill both.\n\n```mill\nboards = ["panel", "rail"]\n```\n'


@pytest.fixture
def tray(tmp_path: Path) -> Path:
    (tmp_path / "design.toml").write_text(TOML, "utf-8")
    (tmp_path / "steps.md").write_text(STEPS, "utf-8")
    return tmp_path


def test_a_check_looks_at_all_that_may_vary(command, tray):
    ran = command("check", tray)
    assert ran.status == 1
    assert "error[ENV01] tight-at-a-corner: fit `has room` fails at 65 % humidity" in ran.out


def test_a_nominal_check_looks_at_the_build_as_drawn(command, tray):
    ran = command("check", "--nominal", tray)
    assert (ran.status, ran.out) == (0, f"{tray}: nothing to mend\n")


def test_a_build_looks_at_all_that_may_vary_as_well(command, tray, tmp_path):
    ran = command("build", tray, "--out", tmp_path / "out")
    assert ran.status == 1
    assert "ENV01" in ran.out
