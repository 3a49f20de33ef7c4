"""Machines in the list of tools: what blades and bits run on, and what boards are brought to size with."""

from pathlib import Path

from planbook.reader import read_design
from planbook.takeoff import lists
from planbook.takeoff.safety import safety
from planbook.takeoff.tools import tools
from planbook.workshop import Use
from planbook.workshop.run import build


def _steps(bench):
    return {row.name: row.steps for row in tools(bench.timeline())}


def test_boards_are_planed_and_sawn_to_size_with_tools_of_the_list(bench, make_piece):
    bench.step("Mill")
    bench.do("mill", made=[make_piece("rail", (100, 50, 20))])
    bench.step("Cut the panel")
    bench.do("mill", made=[make_piece("panel", (100, 50, 20), wood="birch plywood")])
    found = _steps(bench)
    assert found["planer and jointer, or hand plane"] == (1,)
    assert found["saw for the cut layouts"] == (1, 2)


def test_what_cut_layouts_saw_is_ripped_with_a_push_stick_and_the_caution_of_both_cuts(bench, make_piece):
    bench.step("Mill")
    bench.do("mill", made=[make_piece("board", (600, 100, 20), wood="white ash")])
    timeline = bench.timeline()
    for whole, sawn in (((), True), (("white ash",), False)):
        rows = {row.name: row.steps for row in tools(timeline, whole)}
        assert (rows.get("push stick") == (1,)) is sawn
        assert rows["push block"] == (1,)
        named = {here.caution.name for here in safety(timeline, whole).of(1)}
        assert ("cut layout" in named) is sawn
        assert not {"rip", "crosscut"} & named


def test_a_sheet_that_no_layout_saws_asks_for_no_saw_beforehand(bench, make_piece):
    bench.step("Look at the sheet")
    bench.do("mill", made=[make_piece("panel", (100, 50, 20), wood="birch plywood")])
    whole = {row.name for row in tools(bench.timeline(), whole={"birch plywood"})}
    assert "saw for the cut layouts" in _steps(bench)
    assert "saw for the cut layouts" not in whole


def test_a_board_as_large_as_a_sheet_that_is_sold_is_not_sawn_beforehand():
    """The dory stool's board is a quarter sheet, 4 x 2 ft; the first saw cut of the plan is its own step 2."""
    found = {row.name for row in lists(build(read_design(Path("designs/dory-stool")).design), system="in").tools}
    assert "table saw" in found
    assert "saw for the cut layouts" not in found


def test_blades_and_bits_bring_the_machine_that_they_run_on(bench):
    bench.tool("narrow", "band saw")
    bench.tool("wide", "band saw")
    bench.tool("brad point", "drill")
    bench.tool("straight bit", "router")
    bench.tool("trimming router", "router")
    bench.tool("disc and drum", "drum sander")
    for name, kind in (
        ("narrow", "band saw"),
        ("wide", "band saw"),
        ("brad point", "drill"),
        ("straight bit", "router"),
        ("trimming router", "router"),
        ("disc and drum", "drum sander"),
    ):
        bench.step("Work")
        bench.do("saw", uses=[Use(name, kind, 0.5, "m")])
    found = _steps(bench)
    assert {name: found[name] for name in ("band saw", "drill press", "router", "disc sander", "drum sander")} == {
        "band saw": (1, 2),
        "drill press": (3,),
        "router": (4,),
        "disc sander": (6,),
        "drum sander": (6,),
    }


def test_a_machine_runs_where_words_name_its_blade_and_a_blade_called_after_it_is_not_the_machine(bench):
    bench.tool("scroll saw blade", "scroll saw")
    bench.step("Saw")
    bench.do("saw", uses=[Use("scroll saw blade", "scroll saw", 0.5, "m")])
    bench.step("Free it", "Free the waste with the scroll saw blade.")
    assert _steps(bench)["scroll saw"] == (1, 2)


def test_the_hand_drill_that_words_ask_for_is_listed_once(bench):
    bench.tool("pilot drill", "drill")
    bench.step("Bore", "With a hand drill, bore the holes.")
    bench.do("bore", uses=[Use("pilot drill", "drill", 2, "holes")])
    rows = [row.name for row in tools(bench.timeline())]
    assert (rows.count("hand drill"), rows.count("drill press")) == (1, 0)


def test_a_machine_that_the_design_lists_by_its_name_stands_there_once(bench):
    bench.tool("band saw", "band saw")
    bench.tool("resaw blade", "band saw")
    bench.step("Saw")
    bench.do("saw", uses=[Use("band saw", "band saw", 0.5, "m"), Use("resaw blade", "band saw", 0.5, "m")])
    bench.step("Resaw")
    bench.do("saw", uses=[Use("resaw blade", "band saw", 0.5, "m")])
    assert [row.steps for row in tools(bench.timeline()) if row.name == "band saw"] == [(1, 2)]
