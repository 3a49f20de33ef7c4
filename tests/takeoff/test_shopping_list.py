"""The shopping list: boards as the layouts need them, supplies with their allowance in the sizes sold."""

from fractions import Fraction

import pytest

from planbook.handbook import packages
from planbook.model import Rack, RackRow
from planbook.takeoff import Bought, shopping
from planbook.text import Place
from planbook.workshop import Use

HERE = Place("rack.toml")


def only(bench, **more) -> Bought:
    (line,) = shopping(bench.timeline(), **more)
    return line


def test_a_board_is_bought_by_volume_with_its_size(bench):
    bench.board("side", "500 mm", "90 mm", "20 mm")
    line = only(bench)
    # 20 mm planed from 27 mm sawn; 96 + 2 x 4 mm wide, 520 + 2 x 25 mm long: 125 mm and 600 mm are sold.
    assert (line.kind, line.name, line.count, line.unit, line.from_rack) == ("board", "cherry", 1, "m3", False)
    assert line.size == (27, 125, 600)
    assert line.what == "27 mm sawn, 125 mm wide, 600 mm long"
    assert line.amount == pytest.approx(0.027 * 0.125 * 0.6)


def test_what_comes_from_the_rack_is_marked(bench):
    bench.board("side", "500 mm", "90 mm", "20 mm")
    own = RackRow("plank", "board", "cherry", Fraction(20), Fraction(150), Fraction(900), 1, True, (), HERE, HERE)
    line = only(bench, rack=Rack("rack.toml", (own,)))
    assert (line.from_rack, line.what, line.size) == (True, "plank", (20, 150, 900))


def test_a_sheet_is_bought_by_area(bench):
    bench.board("back", "1500 mm", "800 mm", "6 mm", wood="birch plywood")
    line = only(bench)
    assert (line.kind, line.unit, line.what) == ("sheet", "m2", "6 mm thick, 1220 x 2440 mm")
    assert line.amount == pytest.approx(1.22 * 2.44)


def test_glue_is_bought_in_bottles_that_hold_the_mated_area_with_an_allowance(bench):
    bench.supply("glue", "glue", "yellow wood glue")
    bench.step("Glue")
    bench.do("glue", uses=[Use("glue", "glue", 0.5, "m2")])
    # 0.5 m2 x 175 g/m2 / 1.1 g/ml = 79.5 ml, and 15 % more is 91.5 ml.
    assert only(bench) == Bought("glue", "yellow wood glue", "bottle of glue, 100 ml", 1, 0.1, "l", None, (1,))
    # Two of them take 183 ml; twenty 1.83 l, which two bottles of a litre hold.
    assert only(bench, make=2).what == "bottle of glue, 250 ml"
    twenty = only(bench, make=20)
    assert (twenty.what, twenty.count, twenty.amount) == ("bottle of glue, 1 l", 2, 2.0)


def test_in_inches_glue_comes_in_fluid_ounces(bench):
    bench.supply("glue", "glue", "yellow wood glue")
    bench.step("Glue")
    bench.do("glue", uses=[Use("glue", "glue", 0.5, "m2")])
    line = only(bench, system="in")
    assert line.what == "bottle of glue, 4 fl oz"
    assert line.amount == pytest.approx(4 * 0.0295735295625)


def test_finish_counts_the_area_of_every_coat(bench):
    bench.supply("oil", "finish", "danish oil")
    bench.step("Oil")
    bench.do("finish", uses=[Use("oil", "finish", 3 * 0.8, "m2")], settings=(("coats", 3),))
    from planbook.handbook import finish

    need = 2.4 / finish("danish oil").coverage_m2_per_litre * 1.15
    line = only(bench)
    assert line.kind == "finish"
    assert line.amount >= need
    smaller = [float(p.amount) / 1000 for p in packages().values() if p.kind == "finish" and p.system == "mm"]
    assert all(size < need for size in smaller if size < line.amount)


def test_abrasives_are_counted_in_whole_sheets(bench):
    bench.supply("fine", "abrasive", "P180")
    bench.step("Sand")
    bench.do("sand face", uses=[Use("pad", "hand sanding", 0.5, "m2")])
    # 0.5 m2 with 15 % more is 0.575 m2, at 0.3 m2 a sheet (from memory).
    line = only(bench)
    assert (line.count, line.amount, line.unit) == (2, 2.0, "sheets")
    assert only(bench, make=3).count == 6


def test_hardware_is_counted_for_every_copy(bench):
    bench.supply("hinge", "hardware", "", count=2)
    assert (only(bench).count, only(bench, make=4).count) == (2, 8)


def test_every_package_is_larger_than_nothing_and_known_in_both_systems():
    rows = packages().values()
    assert all(row.amount > 0 for row in rows)
    assert {(r.kind, r.unit) for r in rows if r.system == "mm"} == {(r.kind, r.unit) for r in rows if r.system == "in"}


def test_no_build_buys_nothing(bench):
    assert shopping(bench.timeline()) == ()
