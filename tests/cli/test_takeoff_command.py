"""`planbook takeoff`: what it prints and where, its exit statuses, and the files it writes."""

import csv
import io
import json
import os
import shutil
from pathlib import Path

import jsonschema
import pytest

from planbook.takeoff import lists_schema

STARTER = Path(__file__).parents[2] / "planbook" / "cli" / "starter"


@pytest.fixture
def block(tmp_path: Path) -> Path:
    folder = tmp_path / "pencil-block"
    shutil.copytree(STARTER, folder, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return folder


def rack(folder: Path, thickness: str = "52 mm", width: str = "300 mm") -> Path:
    path = folder / "rack.csv"
    path.write_text(f"name,wood,thickness,width,length,planed\nmy plank,cherry,{thickness},{width},2 m,yes\n", "utf-8")
    return path


def shopped(text: str) -> list[dict[str, str]]:
    return [row for row in csv.DictReader(io.StringIO(text, newline="")) if row["list"] == "shopping"]


def test_tables_go_to_stdout_and_the_sum_of_the_findings_to_stderr(command, block):
    ran = command("takeoff", block)
    assert ran.status == 0
    for heading in ("SHOPPING", "BOARDS", "PARTS ON BOARDS", "SAW CUTS", "PIECES", "TOOLS", "SUPPLIES", "TIME"):
        assert f"\n{heading}\n" in ran.out
    assert "proved least" in ran.out
    assert ran.err == f"{block}: nothing to mend\n"


def test_csv_and_json_are_whole_and_nothing_else_is_on_stdout(command, block):
    assert shopped(command("takeoff", block, "--format", "csv", "-q").out)
    ran = command("takeoff", block, "--format", "json", "--make", "3")
    found = json.loads(ran.out)
    jsonschema.validate(found, lists_schema(), cls=jsonschema.Draft202012Validator)
    assert found["make"] == 3


def test_make_multiplies_what_is_bought(command, block):
    def parts(*options: str) -> int:
        found = json.loads(command("takeoff", block, "--format", "json", *options).out)
        return sum(len(sheet["placements"]) for plan in found["plans"] for sheet in plan["sheets"])

    assert parts("--make", "12") == 12 * parts()


def test_units_choose_the_sizes_sold(command, block):
    metric, inches = (command("takeoff", block, "--units", units, "--format", "csv").out for units in ("mm", "in"))
    assert "mm sawn" in metric
    assert "/4 rough" in inches


def test_with_a_rack_nothing_is_bought_that_it_holds(command, block, tmp_path):
    bought = shopped(command("takeoff", block, "--format", "csv", "--rack", rack(tmp_path)).out)
    assert [row["note"] for row in bought if row["kind"] == "board"] == ["my plank; in the rack"]


def test_a_note_about_the_rack_shows_its_line_and_stops_nothing(command, block, tmp_path):
    ran = command("takeoff", block, "--rack", rack(tmp_path, thickness="3 mm"))
    assert ran.status == 0
    assert "note[BUY05] thickness-fits-nothing: `my plank` in the rack is" in ran.err
    assert f"{(tmp_path / 'rack.csv').as_posix()}:2:17" in ran.err
    assert "SHOPPING" in ran.out


def test_an_error_in_the_rack_stops_the_lists(command, block, tmp_path):
    ran = command("takeoff", block, "--rack", rack(tmp_path, width="0 mm"))
    assert (ran.status, ran.out) == (1, "")
    assert "error[INP34]" in ran.err


def test_a_rack_that_is_not_there_is_a_finding(command, block, tmp_path):
    ran = command("takeoff", block, "--rack", tmp_path / "none.toml")
    assert (ran.status, ran.out) == (1, "")
    assert "there is no `none.toml`" in ran.err


def test_an_error_in_the_design_stops_the_lists(command, block):
    (block / "steps.md").write_text("Nothing.\n", "utf-8")
    ran = command("takeoff", block)
    assert (ran.status, ran.out) == (1, "")


def test_lists_are_written_whole_to_a_file(command, block, tmp_path):
    path = tmp_path / "new" / "lists.json"
    ran = command("takeoff", block, "--format", "json", "--out", path)
    assert (ran.status, ran.out) == (0, "")
    assert json.loads(path.read_text("utf-8"))["title"]
    assert f"wrote {path}" in ran.err
    assert os.listdir(path.parent) == ["lists.json"]


def test_what_cannot_be_done_is_refused(command, block, tmp_path):
    assert command("takeoff", tmp_path / "nowhere").status == 2
    assert command("takeoff", block, "--make", "0").status == 2
    assert command("takeoff", block, "--format", "xml").status == 2
    (tmp_path / "file").touch()
    ran = command("takeoff", block, "--out", tmp_path / "file" / "lists.csv")
    assert ran.status == 2
    assert "cannot be written" in ran.err


def test_the_schema_is_printed_without_a_design(command):
    ran = command("takeoff", "--schema")
    assert ran.status == 0
    assert json.loads(ran.out) == lists_schema()


def test_prices_give_costs_and_those_of_every_choice_side_by_side(command, block, tmp_path):
    wood = next(
        row["name"] for row in shopped(command("takeoff", block, "--format", "csv").out) if row["kind"] == "board"
    )
    with (block / "design.toml").open("a") as file:
        file.write(f'\n[choices."in oak"]\nwoods = {{ "{wood}" = "white oak" }}\n')
    prices = tmp_path / "prices.toml"
    prices.write_text(
        'currency = "EUR"\n[[item]]\nname = "white oak"\nprice = "3000"\nper = "m3"\n'
        f'[[item]]\nname = "{wood}"\nprice = "1500"\nper = "m3"\n',
        "utf-8",
    )
    plain = command("takeoff", block, "--prices", prices).out
    assert "\nCOSTS\n" in plain
    *_, table = plain.split("COSTS BY CHOICE OF WOODS\n")
    assert table.splitlines()[0].split("  ")[-1].strip() == "in oak"
    one = command("takeoff", block, "--prices", prices, "--choice", "in oak").out
    assert "COSTS BY CHOICE" not in one
    assert "3000.00 EUR" in one
    costs = json.loads(command("takeoff", block, "--prices", prices, "--format", "json").out)["cost"]
    assert costs["currency"] == "EUR"


def test_a_price_list_with_a_fault_stops_the_lists(command, block, tmp_path):
    prices = tmp_path / "prices.toml"
    prices.write_text('currency = "EUR"\n[[item]]\nname = "cherry"\nprice = "-3"\nper = "m3"\n', "utf-8")
    ran = command("takeoff", block, "--prices", prices)
    assert ran.status == 1
    assert "COS" in ran.err
    assert ran.out == ""
