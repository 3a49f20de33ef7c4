"""`--nominal`: a design that holds as drawn and not through the year."""

from .conftest import holding

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
tray = holding(TOML)


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
