"""All lists together, and their CSV and JSON texts."""

import csv
import io
import json

import pytest

from planbook.takeoff import as_csv, as_json, lists
from planbook.takeoff.sheet import COLUMNS
from planbook.units import INCH_16, MM_TENTH
from planbook.workshop import Use


@pytest.fixture
def box(bench, make_piece):
    bench.tool("narrow", "band saw", kerf="1 mm")
    bench.supply("glue", "glue", "yellow wood glue")
    bench.board("blank", "254 mm", "101.6 mm", "50.8 mm", rough=("10 1/2 in", "4 1/2 in", "2 1/4 in"))
    blank = make_piece("blank", (254, 101.6, 50.8))
    body, end = make_piece("body", (200, 101.6, 50.8)), make_piece("end", (53, 101.6, 50.8))
    bench.step("Mill the blank")
    bench.do("mill", made=[blank], uses=[Use("blank", "stock", 1, "board")])
    bench.step("Saw")
    bench.do("saw", [blank], [body, end], uses=[Use("narrow", "band saw", 0.2, "m")], settings=(("kerf", 1.0),))
    bench.step("Glue")
    bench.do("glue", [body], [body], uses=[Use("glue", "glue", 0.1, "m2")], wait=60)
    bench.ends("part", body)
    bench.ends("left over", end)
    return lists(bench.timeline())


def _rows(text):
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_lists_hold_everything(box):
    assert box.title == "Curlew box"
    assert [row.name for row in box.boards] == ["blank"]
    assert [row.wood for row in box.totals] == ["cherry"]
    assert [row.name for row in box.pieces] == ["body"]
    assert [row.name for row in box.leftovers] == ["end"]
    assert [row.name for row in box.tools if not row.implied] == ["narrow"]
    assert [row.name for row in box.supplies] == ["glue"]
    assert [row.name for row in box.woods] == ["cherry"]
    assert [row.step for row in box.cuts] == [2]
    # 200 x 101.6 x 50.8 mm of cherry at 560 kg/m3 (Wood Handbook, Table 5-3b, Eq. 4-14)
    assert box.kilograms == pytest.approx(0.2 * 0.1016 * 0.0508 * 560)


def test_lists_of_an_empty_build_are_empty(bench):
    empty = lists(bench.timeline())
    assert (empty.boards, empty.pieces, empty.tools, empty.supplies, empty.kilograms) == (
        (),
        (),
        (),
        (),
        None,
    )
    assert _rows(as_csv(empty, MM_TENTH)) == []
    assert json.loads(as_json(empty))["boards"] == []


def test_one_unknown_wood_leaves_the_weight_of_the_object_unknown(bench, make_piece):
    bench.ends("part", make_piece("a", (10, 10, 10)), make_piece("b", (10, 10, 10), wood="driftwood"))
    assert lists(bench.timeline()).kilograms is None


def test_csv_has_the_same_columns_in_every_row(box):
    text = as_csv(box, MM_TENTH)
    assert text.splitlines()[0] == ",".join(COLUMNS)
    assert {len(row) for row in csv.reader(io.StringIO(text, newline=""))} == {len(COLUMNS)}


@pytest.mark.parametrize(
    ("style", "length", "amount"), [(INCH_16, "10 1/2 in", "3/4 fl oz"), (MM_TENTH, "266.7 mm", "20 ml")]
)
def test_csv_follows_the_units_of_the_edition(box, style, length, amount):
    rows = _rows(as_csv(box, style))
    board = next(row for row in rows if row["list"] == "boards")
    glue = next(row for row in rows if row["list"] == "supplies")
    assert board["length"] == length
    # 0.1 m2 x 175 g/m2 (from memory) / 1.1 g/ml x 1.15 = 18.3 ml
    assert glue["amount"] == amount


def test_csv_gives_each_step_its_time(box):
    times = [row for row in _rows(as_csv(box, MM_TENTH)) if row["list"] == "time"]
    assert [(row["name"], row["amount"], row["note"]) for row in times] == [
        ("Mill the blank", "10 min", ""),
        ("Saw", "10 min", ""),
        ("Glue", "10 min", "then wait 1 h"),
    ]


def test_csv_is_not_a_way_into_a_spreadsheet(bench, make_piece):
    bench.step("Make")
    bench.ends("part", make_piece('=HYPERLINK("x"),y', (10, 20, 30)))
    (row,) = [row for row in _rows(as_csv(lists(bench.timeline()), MM_TENTH)) if row["list"] == "pieces"]
    assert row["name"] == '\'=HYPERLINK("x"),y'


def test_json_says_its_units_and_has_plain_numbers(box):
    data = json.loads(as_json(box))
    assert data["units"] == {"length": "mm", "time": "minutes"}
    assert data["boards"][0]["size"] == {"length": 254, "width": 101.6, "thickness": 50.8}
    assert data["boards"][0]["names"] == ["blank"]
    assert data["pieces"][0]["ending"] == "part"
    assert data["supplies"][0]["metric"] == {"value": 20, "unit": "ml"}
    assert data["time"]["steps"][2]["wait"] == 60


def test_texts_are_the_same_every_time(box):
    assert as_json(box) == as_json(box)
    assert as_csv(box, MM_TENTH) == as_csv(box, MM_TENTH)


def test_woods_come_with_what_their_dust_does(bench):
    bench.board("a", "100 mm", "50 mm", "20 mm", wood="black walnut")
    bench.board("b", "100 mm", "50 mm", "20 mm", wood="driftwood")
    walnut, drift = lists(bench.timeline()).woods
    assert walnut.known
    assert walnut.latin == "Juglans nigra"
    assert walnut.notes[0].startswith("The dust of black walnut ")
    assert not drift.known
    assert "does not know this wood" in drift.notes[0]


def test_csv_gives_sheets_by_the_square_foot_among_inches_as_the_pages_do(bench):
    """By hand: 48 by 24 in are 8 square feet, and 1219.2 by 609.6 mm 0.74 m2."""
    bench.board("bottom", "48 in", "24 in", "6 mm", wood="birch plywood")
    taken = lists(bench.timeline())
    inches, metric = (_rows(as_csv(taken, style)) for style in (INCH_16, MM_TENTH))
    amounts = [{row["list"]: row["amount"] for row in rows}["boards"] for rows in (inches, metric)]
    assert amounts == ["8.00 ft2", "0.74 m2"]
    assert all("m2" not in row["amount"] for row in inches)


@pytest.mark.parametrize(("style", "told"), [(INCH_16, "0.043 in"), (MM_TENTH, "1.1 mm")])
def test_csv_tells_a_strip_as_thick_as_a_kerf_as_finely_as_the_pages(bench, make_piece, style, told):
    bench.ends("part", make_piece("shim", (100, 60, 1.1)))
    (row,) = [row for row in _rows(as_csv(lists(bench.timeline()), style)) if row["list"] == "pieces"]
    assert row["thickness"] == told
