"""Cautions: at the right steps, in full once, gravest first; the dangers in the shape of the work."""

from dataclasses import replace

import pytest

from planbook.handbook import GEOMETRIES
from planbook.model import Node
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.takeoff.geometry import geometries, lies_flat
from planbook.takeoff.implied import implied
from planbook.takeoff.safety import safety
from planbook.text import Place
from planbook.workshop import Lost, Show, Use

PLACE = Place("steps.md")


def _names(here):
    return [row.caution.name for row in here]


def _saw(bench, taken, made, **more):
    kerf = block((0, 0, 0), (1, 1, 1))
    bench.do("saw", [taken], made, uses=[Use("narrow", "band saw", 1, "m")], lost=[Lost("kerf", kerf, 1.0)], **more)


def test_a_caution_is_in_full_once_and_repeated_as_a_mark(bench, make_piece):
    bench.tool("narrow", "band saw", kerf="1 mm")
    big = make_piece("big", (500, 300, 40))
    for title in ("Saw", "Look", "Saw again"):
        bench.step(title)
        if title != "Look":
            _saw(bench, big, [big])
    found = safety(bench.timeline())
    assert [row.step for row in found.steps] == [1, 3]
    assert "saw" in _names(found.of(1))
    assert not any(here.repeated for here in found.of(1))
    assert all(here.repeated and here.first_step == 1 for here in found.of(3))
    assert found.of(2) == ()


def test_two_operations_of_a_step_share_a_caution(bench, make_piece):
    big = make_piece("big", (500, 300, 40))
    bench.step("Saw twice")
    _saw(bench, big, [big])
    _saw(bench, big, [big])
    names = _names(safety(bench.timeline()).of(1))
    assert len(names) == len(set(names))


def test_the_gravest_comes_first(bench, make_piece):
    bench.tool("saw", "table saw", kerf="3 mm")
    big = make_piece("big", (500, 300, 40))
    bench.step("Rip and glue")
    bench.do("glue", [big], [big], uses=[Use("glue", "glue", 0.1, "m2")])
    bench.do("slice", [big], [big], uses=[Use("saw", "table saw", 1, "m")])
    found = safety(bench.timeline())
    assert found.of(1)[0].caution.signal == "DANGER"
    assert list(found.signals) == sorted(found.signals, key=["DANGER", "WARNING", "CAUTION", "NOTICE"].index)


def test_dust_matters_where_wood_is_lost_and_not_where_it_is_glued(bench, make_piece):
    walnut = make_piece("side", (500, 300, 40), wood="black walnut")
    bench.step("Glue")
    bench.do("glue", [walnut], [walnut], uses=[Use("glue", "glue", 0.1, "m2")])
    bench.step("Saw")
    _saw(bench, walnut, [walnut])
    found = safety(bench.timeline())
    assert "dust of walnut" not in _names(found.of(1))
    assert "dust of walnut" in _names(found.of(2))


def test_milling_is_dusty_though_the_build_loses_nothing_in_it(bench, make_piece):
    bench.step("Mill")
    bench.do("mill", made=[make_piece("side", (500, 300, 40), wood="black walnut")])
    assert "dust of walnut" in _names(safety(bench.timeline()).of(1))


def test_a_supply_is_known_by_its_product(bench):
    bench.supply("the oil", "finish", "boiled linseed oil")
    bench.step("Oil")
    bench.do("finish", uses=[Use("the oil", "finish", 0.1, "m2")])
    assert "oily rags" in _names(safety(bench.timeline()).of(1))


def test_a_drill_of_the_design_brings_the_cautions_of_the_drill_press(bench):
    bench.tool("bit", "drill", diameter="8 mm")
    bench.step("Bore")
    bench.do("bore", uses=[Use("bit", "drill", 1, "holes")])
    assert "drill press" in _names(safety(bench.timeline()).of(1))


def test_holes_for_hardware_are_bored_with_a_drill_in_the_hand(bench, make_piece):
    """And so are those of a step, or of a bit, whose words name that drill."""
    bench.tool("bit", "drill", diameter="3 mm")
    bench.tool("held bit", "drill", diameter="3 mm", note="in a hand drill")
    bench.step("Bore")
    bench.do("bore", uses=[Use("bit", "drill", 1, "holes")])
    bench.step("Screw")
    bench.do("fit hardware", uses=[Use("bit", "drill", 1, "holes")], settings=(("diameter", 3.0),))
    bench.step("Bore in place", words="Bore through, with a hand drill held level.")
    bench.do("bore", uses=[Use("bit", "drill", 1, "holes")])
    bench.step("Bore from within")
    bench.do("bore", uses=[Use("held bit", "drill", 1, "holes")])
    found = safety(bench.timeline())
    drills = [{"drill press", "hand drill"} & set(_names(found.of(step))) for step in (1, 2, 3, 4)]
    assert drills == [{"drill press"}, {"hand drill"}, {"hand drill"}, {"hand drill"}]
    assert dict(implied(bench.timeline()))["hand drill"] == (2, 3, 4)


def test_sanding_and_a_hand_drill_that_words_alone_ask_for_have_their_cautions(bench, make_piece):
    board = make_piece("board", (500, 300, 18), wood="birch plywood")
    bench.tool("flat board", "hand sanding")
    expected = {
        "Peel the paper off.": set(),
        "Peel the paper off and sand all edges smooth.": {"sand face", "sheet dust"},
        "Smooth it on the flat board.": {"sand face", "sheet dust"},
        "Bore it with a hand drill.": {"hand drill"},
    }
    for words in expected:
        bench.step("Peel", words=words)
        bench.do("peel", [board], [board])
    found = safety(bench.timeline())
    assert [set(_names(found.of(step))) for step in (1, 2, 3, 4)] == [*expected.values()]


def test_sanding_that_words_ask_for_warns_of_the_dust_of_what_they_name(bench, make_piece):
    shelf, case = make_piece("shelf", (500, 300, 18), wood="white ash"), make_piece("case", (500, 300, 18))
    plugged = replace(case, members=make_piece("plug", (9, 9, 9), wood="black walnut").members)
    for words in ("Sand the underside of the {shelf} a little.", "Sand the underside a little."):
        bench.step("Slide it in", words=words)
        bench.do("assemble", [shelf, plugged], [shelf, plugged])
    found = safety(bench.timeline())
    assert ["dust of walnut" in _names(found.of(step)) for step in (1, 2)] == [False, True]


@pytest.mark.parametrize(("name", "warned"), [("wall screws", True), ("wood screws", False)])
def test_hardware_that_holds_to_a_wall_warns_of_what_runs_in_it(bench, name, warned):
    bench.supply(name, "hardware")
    bench.step("Hang it")
    bench.do("fit hardware", uses=[Use(name, "hardware", 2, "pieces")])
    names = _names(safety(bench.timeline()).of(1))
    assert [each in names for each in ("wall fixings", "dust of a wall")] == [warned, warned]


def test_glue_is_wet_in_whatever_is_glued_with_it(bench, make_piece):
    board = make_piece("board", (500, 300, 18))
    for kind in ("glue up", "plug", "shim", "dry fit"):
        bench.step(kind)
        bench.do(kind, [board], [board], uses=[] if kind == "dry fit" else [Use("wood glue", "glue", 0.1, "m2")])
    found = safety(bench.timeline())
    assert ["glue" in _names(found.of(step)) for step in (1, 2, 3, 4)] == [True, True, True, False]


def test_the_page_of_general_precautions_is_always_there(bench):
    found = safety(bench.timeline())
    assert found.general
    assert found.steps == ()
    assert found.signals == ()


@pytest.mark.parametrize(
    ("size", "part", "expected"),
    [
        ((500, 300, 40), (500, 140, 40), ()),
        ((199, 100, 40), (190, 60, 40), ("short piece",)),  # twice the published finger margin of 100 mm
        ((500, 300, 40), (49, 30, 40), ("small part",)),  # the least finger margin that schools teach, 2 in
        ((500, 300, 40), (500, 300, 5), ("thin piece",)),  # common practice: 1/4 in
    ],
)
def test_small_work_is_dangerous_at_a_machine(bench, make_piece, size, part, expected):
    bench.step("Saw")
    _saw(bench, make_piece("blank", size), [make_piece("part", part)])
    assert geometries(bench.events[0], {"band saw"}) == expected
    assert geometries(bench.events[0], {"hand saw"}) == ()


@pytest.mark.parametrize(("diameter", "expected"), [(13.0, ()), (13.5, ("large bit",))])
def test_large_bits(bench, diameter, expected):
    # published safety rules of schools: over 1/2 in at the slowest speed
    bench.step("Bore")
    bench.do("bore", settings=(("diameter", diameter),))
    assert geometries(bench.events[0], {"drill"}) == expected


def test_a_round_bottom_does_not_lie_flat(bench, make_piece):
    round_bar = cylinder(FACE_FRAMES["front"], (0.0, 0.0), 50.0, 0.0, 300.0)
    half = round_bar.split((0.0, 0.0, 1.0), 0.0)[0]
    assert not lies_flat(round_bar, "top")
    assert lies_flat(round_bar, "front")
    assert lies_flat(half, "top")
    assert not lies_flat(half, "bottom")
    bench.step("Saw")
    drum = make_piece("drum", round_bar)
    _saw(bench, drum, [drum], show=Show("top", ()))
    assert geometries(bench.events[0], {"band saw"}) == ("curved bottom",)


def test_every_danger_named_here_has_a_caution_in_the_handbook():
    assert {"short piece", "small part", "thin piece", "curved bottom", "large bit"} <= set(GEOMETRIES)


@pytest.mark.parametrize(("work", "kind"), [("round over", "router"), ("sand flush", "disc sander")])
def test_no_machine_runs_where_edges_are_rounded_or_boards_sanded_flush_by_hand(bench, make_piece, work, kind):
    lid = make_piece("lid", (300, 200, 20))
    for number, (each, caution) in enumerate(((kind, work), ("hand sanding", "sand face")), 1):
        bench.tool(each, each)
        bench.step("Work")
        bench.do(work, [lid], [lid], uses=[Use(each, each, 1, "m")])
        names = _names(safety(bench.timeline()).of(number))
        assert [name for name in (work, "sand face") if name in names] == [caution]


@pytest.mark.parametrize(("wood", "planed"), [("birch plywood", False), ("sugar maple", True)])
def test_nobody_planes_a_sheet(bench, make_piece, wood, planed):
    panel = make_piece("panel", (600, 600, 18), wood)
    bench.step("Bring it in")
    bench.do("mill", [], [panel])
    assert ("mill" in _names(safety(bench.timeline()).of(1))) == planed


@pytest.mark.parametrize("count", [1, 2])
def test_nothing_is_forced_together_where_one_piece_stands_alone(bench, make_piece, count):
    parts = [make_piece(f"part {n}", (300, 200, 20)) for n in range(count)]
    bench.step("Set it up")
    bench.do("assemble", parts, parts)
    assert ("assemble" in _names(safety(bench.timeline()).of(1))) == (count == 2)


@pytest.mark.parametrize(("kind", "routed"), [("router", True), ("hand saw", False)])
def test_a_rabbet_sawn_by_hand_has_the_cautions_of_the_saw_alone(bench, make_piece, kind, routed):
    bench.tool("fine saw", kind)
    back = make_piece("back", (300, 200, 20))
    bench.step("Notch the corners")
    bench.do("rabbet", [back], [back], uses=[Use("fine saw", kind, 1, "m")])
    names = _names(safety(bench.timeline()).of(1))
    assert ("rabbet" in names) == routed
    assert kind in names


@pytest.mark.parametrize(("kinds", "cautioned"), [(["glue"], True), (["glue", "finish"], False), (["finish"], False)])
def test_only_a_wait_for_glue_warns_of_joints_that_open(bench, make_piece, kinds, cautioned):
    box, lid = make_piece("box", (300, 200, 100)), make_piece("lid", (300, 200, 20))
    bench.step("Glue the lid")
    bench.do("glue", [lid], [lid], uses=[Use("wood glue", "glue", 1, "m2")])
    for kind in kinds:
        bench.step("Work on the box")
        bench.do("assemble", [box], [box], uses=[Use("pot", kind, 1, "m2")])
    bench.do("wait", wait=60, fields={"dry": Node((Node("box", PLACE),), PLACE)})
    assert ("wait" in _names(safety(bench.timeline()).of(len(bench.titles)))) == cautioned
