"""Cut layouts of builds: closed forms of what a board yields, the rack before the shop, matches, and findings."""

from collections import Counter
from fractions import Fraction

import pytest

from planbook.model import Rack, RackDefect, RackRow
from planbook.takeoff import CutPlans, cut_plans
from planbook.takeoff.kinds import ALL
from planbook.takeoff.wanted import wanted
from planbook.text import Place

HERE = Place("rack.toml", 3, 1)
F = Fraction


def row(name: str, *size: float, wood: str = "cherry", count: int = 1, **more) -> RackRow:
    thickness, width, length = (F(side) for side in size)
    facts = {"kind": "board", "planed": True, "defects": (), **more}
    return RackRow(
        name, facts["kind"], wood, thickness, width, length, count, facts["planed"], facts["defects"], HERE, HERE
    )


def rack(*rows: RackRow, **settings: float) -> Rack:
    return Rack("rack.toml", rows, {key: F(value) for key, value in settings.items()})


BARE = {"kerf": 3, "edge_trim": 0, "end_trim": 0, "squaring_width": 0, "squaring_length": 0}


def placed(found: CutPlans) -> Counter:
    return Counter(
        (plan.from_rack, placement.part)
        for plan in found.plans
        for sheet in plan.layout.sheets
        for placement in sheet.placements
    )


def codes(found: CutPlans) -> list[str]:
    return [finding.code for finding in found.findings]


@pytest.mark.parametrize("many", [1, 2, 7, 12])
@pytest.mark.parametrize("kerf", [1, 3])
def test_a_board_yields_just_as_many_parts_as_fit_with_a_kerf_between_them(bench, many, kerf):
    bench.board("slat", "100 mm", "50 mm", "20 mm")
    length = many * 100 + (many - 1) * kerf
    for spare, yielded in ((0, many), (-1, many - 1), (100 + kerf - 1, many), (100 + kerf, many + 1)):
        own = rack(row("plank", 20, 50, length + spare), **{**BARE, "kerf": kerf})
        found = cut_plans(bench.timeline(), own, make=30)
        assert placed(found)[True, "slat"] == yielded
        assert placed(found)[False, "slat"] == 30 - yielded


def test_trims_come_off_both_ends_and_both_edges(bench):
    bench.board("slat", "100 mm", "50 mm", "20 mm")
    own = {**BARE, "edge_trim": 4, "end_trim": 25}
    just = 3 * 100 + 2 * 3 + 2 * 25
    fits, short, narrow = (
        cut_plans(bench.timeline(), rack(row("plank", 20, *size), **own), make=3)
        for size in ((58, just), (58, just - 1), (57, just))
    )
    assert (placed(fits)[True, "slat"], placed(short)[True, "slat"], placed(narrow)[True, "slat"]) == (3, 2, 0)


def test_the_saw_of_the_design_decides_the_kerf_unless_the_rack_does(bench):
    """A kerf of 3.2 mm: two slats of 100 mm need 203.2 mm; the handbook's own is 3 mm, and a band saw cuts no boards up."""
    bench.board("slat", "100 mm", "50 mm", "20 mm")
    bench.tool("narrow blade", "band saw", kerf="9 mm")
    usual = cut_plans(bench.timeline())
    bench.tool("panel blade", "table saw", kerf="3.2 mm")
    own = cut_plans(bench.timeline())
    assert [plan.problem.kerf for plan in (*usual.plans, *own.plans)] == [F(3), F("3.2")]
    bare = {key: value for key, value in BARE.items() if key != "kerf"}
    for length, yielded in ((F("203.2"), 2), (F("203.1"), 1)):
        found = cut_plans(bench.timeline(), rack(row("plank", 20, 50, length), **bare), make=2)
        assert placed(found)[True, "slat"] == yielded
    found = cut_plans(bench.timeline(), rack(row("plank", 20, 50, 203), **BARE), make=2)
    assert placed(found)[True, "slat"] == 2


def test_squaring_is_added_where_the_design_gives_no_rough_size(bench):
    bench.board("squared", "100 mm", "50 mm", "20 mm")
    bench.board("given", "100 mm", "50 mm", "20 mm", rough=("130 mm", "60 mm", "20 mm"))
    found = cut_plans(bench.timeline(), rack(row("plank", 20, 200, 800)))
    sizes = {p.part: (p.length, p.width) for plan in found.plans for s in plan.layout.sheets for p in s.placements}
    # Handbook, lumber in millimetres: 20 mm longer, 6 mm wider (common practice).
    assert sizes == {"squared": (120, 56), "given": (130, 60)}


def test_the_rack_comes_before_the_shop_and_only_the_rest_is_bought(bench):
    bench.board("a", "300 mm", "80 mm", "20 mm")
    bench.board("b", "300 mm", "80 mm", "20 mm", wood="sugar maple")
    found = cut_plans(bench.timeline(), rack(row("plank", 20, 100, 400), **BARE))
    assert placed(found) == {(True, "a"): 1, (False, "b"): 1}


def test_a_rack_board_is_found_by_any_name_of_its_wood(bench):
    bench.board("a", "300 mm", "80 mm", "20 mm", wood="black walnut")
    found = cut_plans(bench.timeline(), rack(row("plank", 20, 100, 400, wood="walnut"), **BARE))
    assert placed(found) == {(True, "a"): 1}


@pytest.mark.parametrize(
    ("thickness", "planed", "used"),
    [(19, True, False), (20, True, True), (25, False, False), (26, False, True), (33, True, True), (34, True, False)],
)
def test_a_rack_board_is_used_if_it_is_thick_enough_and_not_far_too_thick(bench, thickness, planed, used):
    bench.board("a", "300 mm", "80 mm", "20 mm", rough=("310 mm", "90 mm", "26 mm"))
    found = cut_plans(bench.timeline(), rack(row("plank", thickness, 100, 400, planed=planed), **BARE))
    assert (placed(found)[True, "a"] == 1) is used
    assert ("BUY05" in codes(found)) is not used


def test_a_thin_board_of_the_rack_is_said_to_be_too_thin_and_by_how_much(bench):
    bench.board("a", "300 mm", "80 mm", "20 mm")
    (finding,) = cut_plans(bench.timeline(), rack(row("plank", 17.5, 100, 400))).findings
    assert (finding.code, finding.place) == ("BUY05", HERE)
    assert finding.headline.startswith("`plank` in the rack is 2.5 mm too thin for board `a`")


def test_a_knot_is_kept_clear_of(bench):
    bench.board("a", "300 mm", "80 mm", "20 mm")
    knot = RackDefect(F(0), F(290), F(100), F(20), HERE)
    clear = row("clear", 20, 80, 603)
    assert placed(cut_plans(bench.timeline(), rack(clear, **BARE), make=2))[True, "a"] == 2
    knotty = row("knotty", 20, 80, 603, defects=(knot,))
    assert placed(cut_plans(bench.timeline(), rack(knotty, **BARE), make=2))[True, "a"] == 0


def test_boards_that_match_come_from_one_board_copy_by_copy(bench):
    for name in ("left", "right"):
        bench.board(name, "300 mm", "80 mm", "20 mm", match="face pair")
    planks = rack(row("plank", 20, 80, 603, count=3), row("short", 20, 80, 300, count=6), **BARE)
    found = cut_plans(bench.timeline(), planks, make=3)
    sheets = [sorted(p.part for p in s.placements) for plan in found.plans for s in plan.layout.sheets]
    assert sorted(sheets) == [["left 1", "right 1"], ["left 2", "right 2"], ["left 3", "right 3"]]


def test_a_board_called_like_the_copy_of_another_is_not_lost(bench):
    for name in ("left", "left 1", "left 2"):
        bench.board(name, "300 mm", "80 mm", "20 mm", match="faces" if name == "left" else "")
    found = cut_plans(bench.timeline(), make=2)
    assert sum(placed(found).values()) == 6
    assert codes(found) == []


def test_steps_are_those_of_the_boards_laid_out_and_no_others(bench, make_piece):
    bench.board("rail", "300 mm", "80 mm", "20 mm")
    bench.board("rail cap", "300 mm", "80 mm", "20 mm")
    for name in ("rail", "rail cap"):
        bench.step(f"Mill the {name}")
        bench.do("mill", made=[make_piece(name, (300, 80, 20))])
    own, bought = cut_plans(bench.timeline(), rack(row("plank", 20, 80, 300), **BARE)).plans
    assert {own.steps, bought.steps} == {(1,), (2,)}


def test_boards_that_match_and_cannot_are_cut_on_their_own(bench):
    bench.board("left", "300 mm", "80 mm", "20 mm", match="pair")
    bench.board("right", "300 mm", "80 mm", "20 mm", match="pair", wood="sugar maple")
    found = cut_plans(bench.timeline())
    assert codes(found) == ["BUY11"]
    assert found.findings[0].headline == "`left` and `right` shall match as `pair`, but are of cherry and hard maple"
    assert placed(found) == {(False, "left"): 1, (False, "right"): 1}


def test_boards_that_match_and_are_too_large_together_are_found(bench):
    for name in "abc":
        bench.board(name, "2 m", "250 mm", "19 mm", match="all")
    assert codes(cut_plans(bench.timeline())) == ["BUY12"]


def test_softwood_as_wide_as_a_dressed_board_is_cut_to_length_only(bench):
    # PS 20: 2 x 4 in is dressed to 1 1/2 x 3 1/2 in. Three of 29 1/4 in with 1/4 in of squaring, two
    # kerfs of 1/8 in and two trims of 1/2 in take 89 3/4 in, more than 6 ft and less than 8 ft.
    bench.board("stud", "29 1/4 in", "3 1/2 in", "1 1/2 in", wood="eastern white pine")
    (plan,) = cut_plans(bench.timeline(), system="in", make=3).plans
    assert (plan.kind, plan.layout.proved) == ("bars", True)
    assert [sheet.stock for sheet in plan.layout.sheets] == ["2 x 4 in nominal, 8 ft long"]
    assert all(cut.way == "crosscut" for sheet in plan.layout.sheets for cut in sheet.cuts)


def test_hardwood_is_bought_by_the_quarter_that_planes_to_the_thickness(bench):
    # NHLA: 4/4 surfaces to 13/16 in, 5/4 to 1 1/16 in.
    bench.board("thin", "12 in", "3 in", "13/16 in")
    bench.board("thick", "12 in", "3 in", "7/8 in")
    plans = cut_plans(bench.timeline(), system="in").plans
    assert [plan.layout.sheets[0].stock.split(",")[0] for plan in plans] == ["4/4 rough", "5/4 rough"]


def test_sheets_are_bought_as_thick_as_designed_and_fibreboard_may_turn(bench):
    bench.board("back", "600 mm", "1500 mm", "6 mm", wood="mdf")
    bench.board("side", "600 mm", "1500 mm", "18 mm", wood="birch plywood")
    found = cut_plans(bench.timeline())
    assert placed(found) == {(False, "back"): 1}
    assert codes(found) == ["BUY07"]
    assert "`side`" in found.findings[0].headline


def test_a_part_larger_than_any_board_is_named_with_how_much_too_large_it_is(bench):
    bench.board("top", "900 mm", "500 mm", "19 mm", rough=("900 mm", "500 mm", "25 mm"))
    bench.board("leg", "300 mm", "50 mm", "19 mm")
    found = cut_plans(bench.timeline())
    assert codes(found) == ["BUY06"]
    # The widest is 300 mm, less 4 mm at each edge.
    assert found.findings[0].headline == "board `top` is 208 mm too wide for any board commonly sold"
    assert placed(found) == {(False, "leg"): 1}


@pytest.mark.parametrize("own", [{"edge_trim": 90_000}, {"end_trim": 5_000}, {"kerf": 500}, {"squaring_length": 9_000}])
def test_a_part_is_laid_out_or_there_is_a_finding_about_it(bench, own):
    bench.board("a", "300 mm", "80 mm", "20 mm")
    bench.board("b", "300 mm", "1200 mm", "18 mm", wood="birch plywood")
    bench.board("c", "300 mm", "70 mm", "18 mm", wood="eastern white pine")
    found = cut_plans(bench.timeline(), rack(**own))
    for name in "abc":
        said = any(f"`{name}`" in finding.headline for finding in found.findings if finding.code != "BUY08")
        assert said or placed(found)[False, name] == 1


def test_a_part_smaller_than_the_kerf_and_one_thicker_than_any_board_are_found(bench):
    bench.board("sliver", "60 mm", "2 mm", "2 mm", rough=("60 mm", "2 mm", "2 mm"))
    bench.board("post", "600 mm", "150 mm", "140 mm")
    assert sorted(codes(cut_plans(bench.timeline()))) == ["BUY08", "BUY10"]
    bench.stock.clear()
    bench.board("strip", "60 mm", "9 mm", "2 mm", rough=("60 mm", "9 mm", "2 mm"))
    bench.board("post", "600 mm", "150 mm", "80 mm")
    assert codes(cut_plans(bench.timeline())) == []


def test_too_many_parts_are_a_finding_and_ten_thousand_are_not(bench):
    bench.board("slat", "100 mm", "50 mm", "20 mm")
    many = cut_plans(bench.timeline(), make=10_000)
    assert codes(many) == []
    assert placed(many) == {(False, "slat"): 10_000}
    bench.board("rail", "100 mm", "40 mm", "20 mm")
    bench.board("stile", "100 mm", "30 mm", "20 mm")
    assert codes(cut_plans(bench.timeline(), make=10_000)) == ["BUY09"]


def test_the_same_build_gets_the_same_layout(bench):
    for number in range(9):
        bench.board(f"part {number}", f"{150 + 37 * number} mm", f"{40 + 11 * number} mm", "20 mm")
    first, second = (cut_plans(bench.timeline(), make=2) for _ in range(2))
    assert first == second


def test_what_is_proved_is_no_more_than_what_is_used(bench):
    for number in range(9):
        bench.board(f"part {number}", f"{150 + 37 * number} mm", f"{40 + 11 * number} mm", "20 mm")
    (plan,) = cut_plans(bench.timeline()).plans
    assert 0 < plan.least <= plan.used
    area = sum(sheet.width * sheet.length for sheet in plan.layout.sheets) / 10**6
    assert plan.used == area


def test_a_wider_kerf_than_the_usual_trim_takes_its_whole_kerf_there(bench):
    bench.board("slat", "100 mm", "50 mm", "20 mm")
    (plan,) = cut_plans(bench.timeline(), rack(kerf=6)).plans
    assert (plan.problem.trim_edge, plan.problem.trim_end) == (6, 25)


def test_a_board_without_a_size_is_left_out_and_no_board_makes_no_layout(bench):
    assert cut_plans(bench.timeline()) == CutPlans()
    bench.board("odd", "width", "50 mm", "20 mm")
    assert wanted(bench.timeline()) == ()


def test_kinds_are_documented_and_numbered():
    assert [kind.code for kind in ALL] == [f"BUY{number:02}" for number in range(5, 5 + len(ALL))]
    assert all(kind.what.endswith(".") and kind.why.endswith(".") and kind.bad != kind.good for kind in ALL)


@pytest.mark.parametrize(("system", "sold"), [("in", "2 x 4 ft"), ("mm", "610 x 1220 mm")])
def test_a_sheet_that_is_sold_as_large_as_it_is_needed_is_bought_as_it_is(bench, system, sold):
    bench.board("quarter", "48 in", "24 in", "18 mm", wood="birch plywood")
    (plan,) = cut_plans(bench.timeline(), system=system).plans
    (sheet,) = plan.layout.sheets
    assert sheet.stock.endswith(sold)
    assert not sheet.cuts
    assert not sheet.offcuts


def test_a_sheet_larger_than_a_quarter_is_cut_from_a_larger_one(bench):
    bench.board("sheet", "48 1/2 in", "24 in", "18 mm", wood="birch plywood")
    (plan,) = cut_plans(bench.timeline(), system="in").plans
    assert plan.layout.sheets[0].stock.endswith("4 x 8 ft")
    assert plan.layout.sheets[0].cuts
