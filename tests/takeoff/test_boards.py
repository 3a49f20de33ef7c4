"""Lumber: board feet against published worked examples, grouping, and totals by wood."""

from fractions import Fraction

import pytest

from planbook.takeoff.board_sizes import finished_told, to_buy_told
from planbook.takeoff.boards import boards, totals
from planbook.units import INCH_32, MM_TENTH


@pytest.mark.parametrize(
    ("length", "width", "thickness", "board_feet"),
    [
        ("96 in", "6 in", "1 in", 4),  # powershardwoods.com: 1 x 6 x 96 in
        ("10 ft", "8 in", "3 in", 20),  # westcoastlands.net: 3 in x 8 in x 10 ft
        ("144 in", "6 in", "2 in", 12),  # a board-foot table: 2 x 6 x 144 in
        ("8 ft", "3 in", "1 in", 2),  # furnituremaking.us: 1 x 3 x 8 ft
        ("12 in", "12 in", "1 in", 1),  # the definition: 144 cubic inches
    ],
)
def test_board_feet_agree_with_published_examples(bench, length, width, thickness, board_feet):
    bench.board("board", length, width, thickness)
    (row,) = boards(bench.timeline())
    assert row.board_feet == board_feet
    assert row.board_feet_nominal == board_feet


def test_five_quarter_stock_measures_a_quarter_more_than_four_quarter(bench):
    # powershardwoods.com: the 4/4 figure times 1.25
    bench.board("thin", "96 in", "6 in", "1 in")
    bench.board("thick", "96 in", "6 in", "1 1/4 in")
    thin, thick = boards(bench.timeline())
    assert thick.board_feet == thin.board_feet * Fraction(5, 4)


def test_one_board_foot_in_cubic_metres(bench):
    # 144 x 25.4^3 mm3, computed from 1 in = 25.4 mm
    bench.board("board", "12 in", "12 in", "1 in")
    (row,) = boards(bench.timeline())
    assert row.cubic_metres == Fraction("0.002359737216")


def test_thin_lumber_is_sold_as_one_inch(bench):
    # common practice: a thickness below one inch counts as one inch
    bench.board("panel", "24 in", "12 in", "1/2 in")
    (row,) = boards(bench.timeline())
    assert (row.board_feet, row.board_feet_nominal) == (1, 2)


def test_rough_size_is_what_is_bought(bench):
    bench.board("side", "200 mm", "19 mm", "90 mm", rough=("220 mm", "1 in", "100 mm"))
    (row,) = boards(bench.timeline())
    assert row.to_buy.length == 220
    assert row.to_buy.thickness == Fraction("25.4")
    assert row.size.thickness == 19
    assert row.cubic_metres == Fraction(220) * 100 * Fraction("25.4") / 10**9


@pytest.mark.parametrize(("grain", "expected"), [("x", (50, 200, 20)), ("y", (20, 200, 50)), ("z", (200, 50, 20))])
def test_length_runs_along_the_grain_even_where_it_is_short(bench, grain, expected):
    bench.board("board", "50 mm", "20 mm", "200 mm", grain=grain)
    (row,) = boards(bench.timeline())
    assert (row.size.length, row.size.width, row.size.thickness) == expected


def test_boards_alike_share_a_row(bench, make_piece):
    bench.board("left side", "300 mm", "19 mm", "90 mm")
    bench.board("back", "200 mm", "19 mm", "90 mm")
    bench.board("right side", "300 mm", "90 mm", "19 mm")
    bench.step("Mill")
    bench.do("mill", made=[make_piece("left side", (300, 19, 90))])
    bench.step("Mill again")
    bench.do("mill", made=[make_piece("right side", (300, 90, 19))])
    sides, back = boards(bench.timeline())
    assert (sides.number, sides.name, sides.count, sides.steps) == (1, "left side, right side", 2, (1, 2))
    assert sides.square_metres == Fraction(2 * 300 * 90, 10**6)
    assert (back.number, back.count, back.steps) == (2, 1, ())


def test_another_wood_is_another_row(bench):
    bench.board("side", "300 mm", "19 mm", "90 mm")
    bench.board("front", "300 mm", "19 mm", "90 mm", wood="black walnut")
    assert [row.wood for row in boards(bench.timeline())] == ["cherry", "black walnut"]


def test_totals_weigh_by_the_density_of_the_handbook(bench):
    bench.board("a", "1000 mm", "100 mm", "20 mm")
    bench.board("b", "500 mm", "100 mm", "20 mm")
    (total,) = totals(boards(bench.timeline()))
    assert total.boards == 2
    assert total.cubic_metres == Fraction(3, 1000)
    # cherry: gravity 0.50 at 12 % (Wood Handbook, Table 5-3b), 1000 x 0.50 x 1.12 = 560 kg/m3 (Eq. 4-14)
    assert total.kilograms == pytest.approx(0.003 * 560)


def test_an_unknown_wood_is_not_weighed(bench):
    bench.board("a", "1000 mm", "100 mm", "20 mm", wood="driftwood")
    (total,) = totals(boards(bench.timeline()))
    assert total.kilograms is None
    assert total.board_feet is not None


def test_sheet_goods_are_measured_by_area(bench):
    bench.board("bottom", "400 mm", "300 mm", "6 mm", wood="birch plywood")
    rows = boards(bench.timeline())
    (total,) = totals(rows)
    assert rows[0].board_feet is None
    assert rows[0].board_feet_nominal is None
    assert total.board_feet is None
    assert total.square_metres == Fraction(12, 100)


def test_sizes_of_the_design_are_followed(bench):
    bench.size("Wall", Fraction(19))
    bench.board("side", "200 mm", "2 * wall", "90 mm")
    (row,) = boards(bench.timeline())
    assert row.size.thickness == 38


def test_a_board_whose_size_has_no_value_is_left_out(bench):
    bench.board("side", "200 mm", "wall", "90 mm")
    bench.board("back", "200 mm", "19 mm", "90 mm")
    assert [row.name for row in boards(bench.timeline())] == ["back"]


def test_a_board_is_not_bought_thinner_than_it_must_be_and_told_as_long_and_wide_as_it_is_sawn(bench):
    """By hand: 220 mm is 277.2/32 in, 170 mm 214.2/32 in, 26 mm 32.8/32 in."""
    bench.board("plank", "206 mm", "160 mm", "21 mm", rough=("220 mm", "170 mm", "26 mm"))
    (row,) = boards(bench.timeline())
    assert to_buy_told(row, INCH_32) == ("8 21/32 in", "6 11/16 in", "1 1/32 in")
    assert to_buy_told(row, MM_TENTH) == ("220 mm", "170 mm", "26 mm")


def test_a_sheet_sold_by_millimetres_has_them_among_inches(bench):
    bench.board("sheet", "48 in", "24 in", "18 mm", wood="birch plywood")
    bench.board("other", "48 in", "24 in", "3/4 in", wood="birch plywood")
    bench.board("plank", "48 in", "6 in", "18 mm")
    told = [finished_told(row, INCH_32)[2] for row in boards(bench.timeline())]
    assert told == ["18 mm (0.709\u00a0in)", "3/4 in", "23/32 in"]
    (sheet, *_) = boards(bench.timeline())
    assert finished_told(sheet, MM_TENTH)[2] == "18 mm"
    assert finished_told(sheet, INCH_32, beside=True)[2] == "23/32 in"
