"""Racks in TOML and CSV: what is read, and what is said about what cannot be."""

from fractions import Fraction
from pathlib import Path

import pytest

from planbook.model import Rack
from planbook.reader.rack import RackReading, read_rack
from planbook.reader.rack_kinds import ALL

F = Fraction
GOOD = """kerf = "1/8 in"
keep_length = "200 mm"

[rack."long board"]
wood = "walnut"
thickness = "27 mm"
width = "7 in"
length = "1.8 m"
count = 2
planed = true
defects = [{ from = "300 mm", to = "380 mm" }, { from = "1 m", to = "1.1 m", across = ["0 mm", "60 mm"] }]

[rack.strip]
wood = "white oak"
thickness = "20 mm"
width = "40 mm"
length = "900 mm"
kind = "bar"
"""
TABLE = """name,wood,thickness (mm),width,length (m),count,kind,planed,defects
long board,walnut,27,7 in,1.8,2,,yes,300 mm to 380 mm
strip,"white oak",20,40 mm,90 cm,,bar,,
"""


def written(tmp_path: Path, text: str, name: str = "rack.toml") -> RackReading:
    path = tmp_path / name
    path.write_text(text, "utf-8")
    return read_rack(path)


def whole(reading: RackReading) -> Rack:
    assert reading.findings == ()
    assert reading.rack is not None
    return reading.rack


def test_a_rack_in_toml_is_read(tmp_path):
    rack = whole(written(tmp_path, GOOD))
    long, strip = rack.rows
    assert (long.wood, long.thickness, long.width, long.length, long.count) == ("walnut", 27, F("177.8"), 1800, 2)
    assert (long.planed, long.kind, strip.kind, strip.planed, strip.count) == (True, "board", "bar", False, 1)
    knot, check = long.defects
    assert (knot.x, knot.y, knot.width, knot.length) == (0, 300, F("177.8"), 80)
    assert (check.x, check.y, check.width, check.length) == (0, 1000, 60, 100)
    assert rack.settings == {"kerf": F("3.175"), "keep_length": 200}
    assert (long.place.line, long.thickness_at.line, strip.place.line) == (4, 6, 13)


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_rack_in_csv_is_read_with_commas_semicolons_or_tabs(tmp_path, mark):
    rack = whole(written(tmp_path, TABLE.replace(",", mark), "rack.csv"))
    long, strip = rack.rows
    assert (long.name, long.thickness, long.width, long.length, long.count) == ("long board", 27, F("177.8"), 1800, 2)
    assert (strip.wood, strip.length, strip.kind, strip.count) == ("white oak", 900, "bar", 1)
    assert [(d.y, d.length) for d in long.defects] == [(300, 80)]
    assert (long.place.line, long.place.column, strip.place.line) == (2, 1, 3)


def test_a_rack_without_boards_is_empty(tmp_path):
    assert whole(written(tmp_path, 'kerf = "2 mm"\n')).rows == ()


TOML_FAULTS = {
    "unknown wood": ('"walnut"', '"wallnut"', "INP38", 5),
    "no unit": ('thickness = "27 mm"', "thickness = 27", "INP22", 6),
    "zero": ('"27 mm"', '"0 mm"', "INP34", 6),
    "negative": ('"1.8 m"', '"-1.8 m"', "INP34", 8),
    "no such key": ("planed", "plane", "INP11", 10),
    "no such kind": ('"bar"', '"beam"', "INP14", 18),
    "missing": ('width = "7 in"\n', "", "INP12", 4),
    "not a table": ("kerf", 'rack = "x"\nkerf', None, None),
    "no such size": ('"27 mm"', '"wall"', "INP26", 6),
    "broken line": ("count = 2", "count = two", "INP08", 9),
    "half a board": ("count = 2", "count = 0", "INP34", 9),
    "knot beyond": ('from = "1 m", to = "1.1 m"', 'from = "1.9 m", to = "2 m"', "BUY02", 11),
    "knot inside out": ('from = "1 m", to = "1.1 m"', 'from = "1.2 m", to = "1.1 m"', "BUY02", 11),
    "trim": ("keep_length", 'end_trim = "3 mm"\nkeep_length', "BUY03", 2),
    "same name": ("rack.strip", 'rack."Long  board"', None, None),
}


@pytest.mark.parametrize("name", TOML_FAULTS)
def test_a_fault_is_found_in_its_place(tmp_path, name):
    before, after, code, line = TOML_FAULTS[name]
    assert before in GOOD
    reading = written(tmp_path, GOOD.replace(before, after, 1))
    assert reading.rack is None
    assert reading.findings
    if code:
        assert [(finding.code, finding.place.line) for finding in reading.findings] == [(code, line)]


def test_names_that_sound_the_same_are_found(tmp_path):
    reading = written(tmp_path, GOOD.replace("rack.strip", 'rack."Long board"'))
    (finding,) = reading.findings
    assert (finding.code, finding.also[0].place.line) == ("BUY01", 4)


CSV_FAULTS = {
    "no such column": ("length (m)", "len (m)", "BUY04", 1),
    "column twice": ("planed", "count", "BUY04", 1),
    "unknown wood": ("walnut", "wallnut", "INP38", 2),
    "a word for a number": (",2,", ",two,", "INP13", 2),
    "no unit": ("40 mm", "40", "INP22", 3),
    "name twice": ("strip", "Long board", "BUY01", 3),
    "no name": ("strip", "", "INP19", 3),
    "odd defect": ("300 mm to 380 mm", "knot", "INP13", 2),
}


@pytest.mark.parametrize("name", CSV_FAULTS)
def test_a_fault_of_a_table_is_found_in_its_line(tmp_path, name):
    before, after, code, line = CSV_FAULTS[name]
    reading = written(tmp_path, TABLE.replace(before, after, 1), "rack.csv")
    assert reading.rack is None
    assert (code, line) in [(finding.code, finding.place.line) for finding in reading.findings]


@pytest.mark.parametrize(
    "text", ["", "\n", "name", "\x00", '"', "a,b\nc", TABLE.replace("\n", "\r\n") + 'x,,,,,,,,"', "name;wood\n" * 3]
)
def test_odd_tables_end_in_findings(tmp_path, text):
    reading = written(tmp_path, text, "rack.csv")
    assert reading.findings
    assert all(finding.place.line >= 1 for finding in reading.findings)


def test_a_file_that_is_not_there_or_not_a_text_is_said_so(tmp_path):
    assert [f.code for f in read_rack(tmp_path / "none.toml").findings] == ["INP02"]
    (tmp_path / "rack.csv").write_bytes(b"name,wood\n\xff\xfe")
    assert [f.code for f in read_rack(tmp_path / "rack.csv").findings] == ["INP06"]
    assert read_rack(tmp_path).findings
    assert read_rack(tmp_path / "no" / "such" / "rack.csv").findings


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: kind.code)
def test_bad_examples_earn_their_finding_and_good_ones_do_not(tmp_path, kind):
    def codes(text: str) -> set[str]:
        name = "rack.csv" if text.startswith("name,") else "rack.toml"
        return {finding.code for finding in written(tmp_path, f"{text}\n", name).findings}

    assert kind.what.endswith(".")
    assert kind.code in codes(kind.bad)
    assert codes(kind.good) == set()
