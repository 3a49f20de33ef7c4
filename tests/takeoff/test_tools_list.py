"""Tools: only those used, their settings, and the table of cuts."""

from pathlib import Path

import pytest

from planbook.model import Node
from planbook.reader import read_design
from planbook.takeoff.implied import implied
from planbook.takeoff.settings import kerf_style, show_setting
from planbook.takeoff.tools import cuts, tools
from planbook.text import Place
from planbook.units import INCH_32, MM_TENTH
from planbook.workshop import Use
from planbook.workshop.run import build

from .conftest import shown

PLACE = Place("steps.md")


def _row(name, bench):
    return next(row for row in tools(bench.timeline()) if row.name == name)


def test_only_tools_that_are_used_are_listed(bench):
    bench.tool("narrow", "band saw", kerf="1 mm", width="1/4 in", least_kerf="0.8 mm", most_kerf="1.4 mm")
    bench.tool("wide", "band saw", kerf="1.2 mm")
    bench.step("Saw")
    bench.do("saw", uses=[Use("narrow", "band saw", 0.5, "m")])
    bench.step("Saw again")
    bench.do("saw", uses=[Use("narrow", "band saw", 0.5, "m")])
    tool = _row("narrow", bench)
    assert (tool.name, tool.kind, tool.steps, tool.implied) == ("narrow", "band saw", (1, 2), False)
    assert shown(tool.settings) == {
        "blade width": "6.35 mm (1/4\u00a0in)",
        "kerf": "1 mm",
        "least kerf": "0.8 mm",
        "most kerf": "1.4 mm",
    }
    assert "wide" not in {row.name for row in tools(bench.timeline())}


def test_every_setting_of_the_fence_is_listed_once(bench):
    bench.tool("saw", "table saw", kerf="3.2 mm", note="Fine teeth.")
    bench.step("Slice")
    for fence in (12.0, 8.0, 12.0):
        bench.do("slice", uses=[Use("saw", "table saw", 0.5, "m")], settings=(("fence", fence), ("kerf", 3.2)))
    tool = _row("saw", bench)
    assert [show_setting(s, MM_TENTH) for s in tool.settings if s.key == "fence"] == ["12 mm", "8 mm"]
    assert tool.note == "Fine teeth."


def test_what_is_cut_out_by_hand_has_its_size_and_nothing_else(bench):
    bench.step("Close the cut")
    strip = (("line", "way in"), ("strip", (50.0, 9.0, 1.0)), ("grain", "across its length"))
    bench.do("shim", uses=[Use("glue", "glue", 0.1, "m2")], settings=(*strip, ("mating area", 900.0), ("clamp", 60.0)))
    bench.do("glue", uses=[Use("glue", "glue", 0.1, "m2")], settings=(("mating area", 900.0), ("clamp", 60.0)))
    (row,) = cuts(bench.timeline())
    assert (row.operation, row.tools) == ("shim", ())
    assert shown(row.settings) == {"strip": "50 × 9 × 1 mm", "grain": "across its length"}


def test_hardware_that_is_put_on_by_hand_is_told_with_its_number(bench):
    bench.step("Hang it")
    places = (("at", ((10.0, 5.0), (30.0, 5.0))), ("diameter", 0.0))
    uses = [Use("fixings", "hardware", 2, "pieces")]
    bench.do("fit hardware", uses=uses, settings=(("hardware", "fixings"), ("count", 2), *places))
    (row,) = cuts(bench.timeline())
    assert shown(row.settings) == {"hardware": "fixings", "count": "2"}


def test_clamps_hold_what_a_router_is_led_over_and_not_what_is_led_over_a_table(bench):
    bench.tool("bit", "router")
    bench.tool("cutter", "router", note="in a router table, with a fence")
    bench.step("Rout")
    bench.do("dado", uses=[Use("bit", "router", 0.2, "m")])
    bench.step("Saw")
    bench.do("saw", uses=[Use("saw", "band saw", 0.2, "m")])
    bench.step("Rout at the table")
    bench.do("groove", uses=[Use("cutter", "router", 0.2, "m")])
    assert _row("clamps", bench).steps == (1,)


def test_a_sled_leads_what_a_table_saw_cuts_against_a_stop(bench):
    bench.tool("saw", "table saw")
    for kind, setting in (("crosscut", "stop"), ("rip", "fence"), ("rip", "stop")):
        bench.step(kind)
        bench.do(kind, uses=[Use("saw", "table saw", 0.2, "m")], settings=((setting, 200.0),))
    assert _row("mitre gauge or sled, with a stop block", bench).steps == (1, 3)


def test_glasses_are_worn_where_the_general_precautions_ask_for_them_without_a_machine(bench):
    """29 CFR 1910.133 as the page of general precautions words it: at machines, to strike, drill, spray or finish."""
    words = ("Tap it home with a mallet.", "Bore it with a hand drill.", "Read this.")
    for text in words:
        bench.step("Work", words=text)
    bench.step("Oil")
    bench.do("finish", uses=[Use("oil", "finish", 0.1, "m2")])
    assert _row("safety glasses", bench).steps == (1, 2, 4)


def test_a_blade_of_a_width_that_is_not_sold_is_told_as_it_measures(bench):
    # 0.053 in are 1.3462 mm: neither a 64th of an inch nor a tenth of a millimetre.
    bench.tool("fine", "scroll saw", width="0.053 in")
    bench.tool("narrow", "band saw", width="6 mm")
    bench.step("Saw")
    bench.do("saw", uses=[Use("fine", "scroll saw", 0.2, "m"), Use("narrow", "band saw", 0.2, "m")])
    assert shown(_row("fine", bench).settings, INCH_32)["blade width"] == "0.053 in"
    assert shown(_row("narrow", bench).settings, INCH_32)["blade width"] == "6 mm (≈\u00a015/64\u00a0in)"


def test_a_lining_has_the_size_that_it_is_cut_to(bench):
    bench.step("Line the drawer")
    felt = (("cut to", (64.0, 72.7)), ("area", 4650.0))
    bench.do("line", uses=[Use("felt", "lining", 0.005, "m2")], settings=felt)
    (row,) = cuts(bench.timeline())
    assert shown(row.settings) == {"cut to": "64 × 72.7 mm"}
    # 64 mm are 80.6 and 72.7 mm 91.6 thirty-seconds of an inch: 81 and 92 would not go in.
    assert show_setting(row.settings[0], INCH_32) == "2 1/2 × 2 27/32 in"


def test_small_tools_follow_from_the_work(bench):
    bench.step("Glue")
    bench.do("glue up", uses=[Use("glue", "glue", 0.1, "m2"), Use("clamps", "clamps", 1, "set")])
    bench.step("Bore")
    bench.do("bore", uses=[Use("drill", "drill", 4, "holes")])
    rows = {row.name: row for row in tools(bench.timeline())}
    assert rows["glue brush or spreader"].steps == (1,)
    assert rows["centre punch or awl"].steps == (2,)
    assert all(row.implied for row in rows.values())
    assert list(rows).count("clamps") == 1
    assert "glue" not in rows
    assert "push stick" not in rows


def test_what_is_worn_follows_from_machines_and_cautions(bench, make_piece):
    blank = make_piece("blank", (100, 50, 20))
    bench.tool("narrow", "band saw")
    bench.supply("resin", "glue", "epoxy")
    bench.step("Saw")
    bench.do("saw", [blank], [blank], uses=[Use("narrow", "band saw", 0.5, "m")])
    bench.step("Glue")
    bench.do("glue up", [blank], [blank], uses=[Use("resin", "glue", 0.1, "m2")])
    bench.step("Sand")
    bench.do("sand face", [blank], [blank], uses=[Use("block", "hand sanding", 0.1, "m2")])
    bench.step("Look")
    rows = {row.name: row.steps for row in tools(bench.timeline())}
    # Eyes and ears at every machine; gloves for epoxy, as the caution of gluing says; dust where one sands.
    assert (rows["hearing protection"], rows["gloves"]) == ((1,), (2,))
    assert 1 in rows["safety glasses"]
    assert 3 in rows["respirator"]
    assert all(4 not in steps for steps in rows.values())


@pytest.mark.parametrize(("kind", "listed"), [("band saw", True), ("hand sanding", False)])
def test_a_block_that_is_squared_at_a_saw_asks_for_a_push_stick(bench, kind, listed):
    bench.step("Square")
    bench.do("square", uses=[Use("blade", kind, 6, "faces")])
    assert ("push stick" in {row.name for row in tools(bench.timeline())}) == listed


def test_a_tool_that_the_words_name_is_in_the_list(bench):
    bench.step("Bore", "With a hand drill, bore a hole; a caliper shows how wide it is.")
    bench.step("Look", "No caliper is needed here.")
    rows = {row.name: row for row in tools(bench.timeline())}
    assert {name: rows[name].steps for name in ("hand drill", "caliper")} == {"hand drill": (1,), "caliper": (1,)}
    assert "file" not in rows


def test_a_tool_of_the_design_that_words_alone_name_is_in_the_list_with_its_note(bench):
    bench.tool("hand screw", "other", note="a wooden one")
    bench.tool("jointer", "other")
    bench.step("Hold", "Clamp the end in the hand screw.")
    rows = {row.name: row for row in tools(bench.timeline())}
    assert (rows["hand screw"].steps, rows["hand screw"].note) == ((1,), "a wooden one")
    assert "jointer" not in rows


def test_clamps_of_the_design_make_implied_ones_needless(bench):
    bench.tool("bar clamps", "clamps")
    bench.step("Glue")
    bench.do("glue up", uses=[Use("bar clamps", "clamps", 1, "set")])
    assert "clamps" not in {row.name for row in tools(bench.timeline())}


def test_the_table_of_cuts_has_each_operation_with_its_settings(bench, make_piece):
    bench.tool("bit", "drill", diameter="8 mm")
    blank = make_piece("blank", (100, 50, 20))
    bench.step("Bore")
    settings = (("stencil", "front"), ("holes", ("a", "b")), ("diameter", 8.0), ("depth", "through"))
    bench.do("bore", [blank], [blank], uses=[Use("bit", "drill", 2, "holes")], settings=settings)
    (row,) = cuts(bench.timeline())
    assert (row.step, row.number, row.operation, row.pieces, row.tools) == (
        1,
        1,
        "bore",
        ("blank",),
        ("bit",),
    )
    assert shown(row.settings) == {
        "stencil": "front",
        "bore": "2 holes",
        "diameter": "8 mm",
        "depth": "through",
    }


def test_a_hole_at_the_point_that_others_are_measured_from_lies_there(bench, make_piece):
    bench.tool("bit", "drill", diameter="8 mm")
    blank = make_piece("blank", (100, 50, 20))
    bench.step("Bore")
    for at in (((0.0, 0.0),), ((0.0, 5.0),)):
        settings = (("at", at), ("measured from", "the middle of the face"))
        bench.do("bore", [blank], [blank], uses=[Use("bit", "drill", 1, "holes")], settings=settings)
    one, two = cuts(bench.timeline())
    assert shown(one.settings) == {"at": "the middle of the face"}
    assert shown(two.settings) == {"at": "5 mm up", "measured from": "the middle of the face"}


def test_gluing_and_waiting_are_no_cuts(bench):
    bench.step("Glue")
    bench.do("glue", uses=[Use("glue", "glue", 0.1, "m2"), Use("clamps", "clamps", 1)], settings=(("clamp", 60.0),))
    bench.do("wait", settings=(("wait", 60.0),))
    assert cuts(bench.timeline()) == ()


def test_points_on_a_stencil_are_not_repeated_as_numbers(bench):
    bench.step("Bore")
    for stencil in ("front", ""):
        settings = (("stencil", stencil), ("at", ((1.0, 2.0),)))
        bench.do("bore", uses=[Use("bit", "drill", 1, "holes")], settings=settings)
    on_paper, by_number = cuts(bench.timeline())
    assert shown(on_paper.settings) == {"stencil": "front"}
    assert shown(by_number.settings) == {"at": "1 mm right, 2 mm up"}


def test_a_rounding_bit_is_told_by_its_radius_and_abrasive_that_rounds_is_not(bench):
    bench.tool("rounding bit", "router")
    bench.tool("stick", "hand sanding")
    bench.step("Round")
    bench.do("round over", uses=[Use("rounding bit", "router", 0.5, "m")], settings=(("radius", 6.35),))
    bench.do("round over", uses=[Use("stick", "hand sanding", 0.5, "m")], settings=(("radius", 3.0),))
    assert shown(_row("rounding bit", bench).settings, INCH_32) == {"radius": "1/4 in"}
    assert _row("stick", bench).settings == ()


def test_the_ends_of_a_kerf_are_never_printed_like_the_kerf(bench):
    bench.tool("panel blade", "table saw", kerf="1/8 in", least_kerf="3/32 in", most_kerf="9/64 in")
    bench.step("Saw")
    bench.do("saw", uses=[Use("panel blade", "table saw", 0.5, "m")])
    settings = _row("panel blade", bench).settings
    assert list(shown(settings, kerf_style(settings, INCH_32)).values()) == ["1/8 in", "3/32 in", "9/64 in"]


def test_what_is_pressed_while_it_is_glued_needs_clamps_and_a_shim_is_trimmed(bench):
    bench.step("Glue")
    bench.do("glue", uses=[Use("clamps", "clamps", 1, "set")], settings=(("clamp", 60.0),))
    bench.step("Close the cut")
    bench.do("shim", settings=(("clamp", 60.0),))
    bench.step("Push it in")
    bench.do("plug", settings=(("clamp", 60.0),))
    found = {row.name: row.steps for row in tools(bench.timeline())}
    assert (found["clamps"], found["chisel"], found["mallet"]) == ((1, 2), (2,), (3,))


@pytest.mark.parametrize(
    ("kind", "settings", "pared"),
    [
        ("dado", (("stop before the front", 30.0),), True),
        ("rabbet", (), False),
        ("groove", (), False),
        ("mortise", (("ends", "chopped square"),), True),
        ("mortise", (("ends", "left round"),), False),
    ],
)
def test_a_chisel_squares_what_a_cutter_leaves_round(bench, kind, settings, pared):
    bench.step("Cut")
    bench.do(kind, settings=settings)
    assert ("chisel" in {row.name for row in tools(bench.timeline())}) == pared


def test_ends_that_are_left_round_need_no_chisel(bench):
    bench.step("Cut")
    bench.do("dado", settings=(("stop before the front", 30.0),), fields={"ends": Node("round", PLACE)})
    assert "chisel" not in {row.name for row in tools(bench.timeline())}


def test_a_chisel_is_needed_where_words_or_the_note_of_a_tool_name_it(bench):
    bench.tool("fine saw", "hand saw", note="a dovetail saw, and a chisel to clean up")
    bench.step("Notch")
    bench.do("rabbet", uses=[Use("fine saw", "hand saw", 0.1, "m")])
    bench.step("Pare", "Pare the plugs down with a Chisel.")
    bench.step("Sand", "Sand it, without a chisel.")
    assert {row.name: row.steps for row in tools(bench.timeline())}["chisel"] == (1, 2)


def test_a_drill_is_listed_with_how_far_it_reaches_through_thick_wood(bench):
    settings = (("diameter", 6.0), ("depth", "through"), ("depth of cut", 97.8))
    bench.step("Bore")
    bench.do("bore", uses=[Use("bit", "drill", 1, "holes")], settings=settings)
    (row,) = (row for row in tools(bench.timeline()) if row.name == "bit")
    assert [(each.key, round(float(each.value.value), 3)) for each in row.settings] == [("depth of cut", 97.8)]


def test_nothing_is_made_square_of_a_sheet_that_is_only_looked_at() -> None:
    """The stool comes out of one sheet, which step 1 measures and step 2 saws across; the heron is milled of boards."""
    samples = Path(__file__).parents[2] / "designs"
    for name, steps in (("dory-stool", (2,)), ("heron-puzzle", (1, 15))):
        design = read_design(samples / name).design
        assert design is not None
        assert dict(implied(build(design)))["try square"] == steps


def test_a_stencil_that_is_only_stuck_on_in_a_step_has_a_row_and_one_that_is_worked_to_has_that_of_the_work(bench):
    bench.step("Stick")
    bench.do("stick", settings=(("stencil", "outline"), ("face", "front")))
    bench.step("Stick and saw")
    bench.do("stick", settings=(("stencil", "notch"), ("face", "front")))
    bench.do("saw", uses=[Use("blade", "band saw", 0.2, "m")], settings=(("stencil", "notch"), ("kerf", 1.1)))
    found = [(row.step, row.operation, shown(row.settings)) for row in cuts(bench.timeline())]
    assert found == [(1, "stick", {"stencil": "outline"}), (2, "saw", {"stencil": "notch", "kerf": "1.1 mm"})]
