"""Supplies: amounts from coverage, allowance, what is not known, what is implied."""

from fractions import Fraction

import pytest

from planbook.takeoff import Amount
from planbook.takeoff.amounts import show_amount
from planbook.takeoff.supplies import supplies
from planbook.workshop import Use


def _only(bench):
    (row,) = supplies(bench.timeline())
    return row


def test_glue_follows_from_the_mated_area(bench):
    # 175 g for a square metre of joint (from memory); 1.1 g to the ml (from memory)
    bench.supply("glue", "glue", "yellow wood glue")
    bench.step("Glue up")
    bench.do("glue up", uses=[Use("glue", "glue", 0.1, "m2"), Use("clamps", "clamps", 1, "set")])
    bench.step("Glue the rest")
    bench.do("glue", uses=[Use("glue", "glue", 0.3, "m2")])
    row = _only(bench)
    assert (row.name, row.kind, row.product, row.steps) == ("glue", "glue", "yellow wood glue", (1, 2))
    assert row.work.value == Fraction(4, 10)
    assert show_amount(row.metric) == "80 ml"  # 0.4 m2 x 175 g/m2 / 1.1 g/ml x 1.15 = 73.2 ml
    assert show_amount(row.us) == "2 1/2 fl oz"  # 2.47 fl oz
    assert not row.implied


def test_glue_that_is_not_poured_is_weighed(bench):
    bench.supply("stick", "glue", "glue stick")
    bench.step("Stick")
    bench.do("stick", uses=[Use("stick", "glue", 0.2, "m2")])
    row = _only(bench)
    assert (row.metric.unit, row.us.unit) == ("g", "oz")


def test_finish_follows_from_area_and_coats(bench):
    # a maker's guide: 400 to 500 sq ft per gallon, 11 m2 to the litre; the build records area times coats
    bench.supply("oil", "finish", "tung oil")
    bench.step("Oil")
    bench.do("finish", uses=[Use("oil", "finish", 0.66, "m2")], settings=(("coats", 3), ("area", 0.22e6)))
    row = _only(bench)
    assert (row.coats, row.work.value) == (3, Fraction(66, 100))
    assert show_amount(row.metric) == "70 ml"  # 0.66 / 11 x 1000 x 1.15 = 69 ml
    assert show_amount(row.us) == "2 1/2 fl oz"  # 2.33 fl oz


def test_lining_follows_from_area_in_its_own_unit_and_brings_its_adhesive(bench):
    bench.supply("flock", "lining", "flock fibres")
    bench.step("Line")
    bench.do("line", uses=[Use("flock", "lining", 0.02, "m2")])
    flock, adhesive = supplies(bench.timeline())
    assert show_amount(flock.metric) == "5 g"
    assert (adhesive.name, adhesive.implied, adhesive.metric.unit) == ("flock adhesive", True, "ml")
    assert adhesive.steps == (1,)


def test_felt_that_sticks_by_itself_needs_no_adhesive(bench):
    bench.supply("felt", "lining", "self adhesive felt")
    bench.step("Line")
    bench.do("line", uses=[Use("felt", "lining", 0.02, "m2")])
    row = _only(bench)
    assert show_amount(row.metric) == "0.03 m²"  # 0.02 m2 x 1.15 = 0.023


@pytest.mark.parametrize("kind", ["glue", "finish", "lining"])
def test_where_coverage_is_not_known_it_says_so(bench, kind):
    bench.supply("mystery", kind, "moon dust", note="Shake well.")
    bench.step("Use it")
    bench.do("glue", uses=[Use("mystery", kind, 0.1, "m2")])
    row = _only(bench)
    assert row.metric is None
    assert row.us is None
    why = f"How much is needed is not known: the handbook has no {kind} called moon dust."
    assert row.note == f"Shake well. {why}"
    assert row.work.value == Fraction(1, 10)


def test_where_no_area_was_recorded_it_says_so(bench):
    bench.supply("glue", "glue", "yellow wood glue")
    bench.step("Glue")
    bench.do("glue", uses=[Use("glue", "glue", 2, "joints")])
    row = _only(bench)
    assert row.metric is None
    assert "did not record an area" in row.note


def test_abrasives_of_the_design_are_listed_with_the_area_to_sand(bench):
    bench.supply("fine paper", "abrasive", "P220")
    bench.step("Sand")
    bench.do("sand face", uses=[Use("pad", "hand sanding", 0.05, "m2")])
    bench.do("sand flush", uses=[Use("pad", "hand sanding", 0.03, "m2")])
    row = _only(bench)
    assert (row.kind, row.product, row.steps, row.work.value) == ("abrasive", "P220", (1,), Fraction(8, 100))
    # One sheet sands about 0.3 m2 (from memory).
    assert (row.metric, row.us) == (Amount(Fraction(1), "sheets"), Amount(Fraction(1), "sheets"))


def test_an_abrasive_without_a_known_area_says_so(bench):
    bench.supply("fine paper", "abrasive", "P220")
    bench.step("Sand")
    bench.do("sand face")
    row = _only(bench)
    assert row.metric is None
    assert "did not record an area" in row.note


def test_abrasives_are_not_listed_where_nothing_is_sanded(bench):
    bench.supply("fine paper", "abrasive", "P220")
    bench.step("Wait")
    bench.do("wait")
    assert supplies(bench.timeline()) == ()


def test_hardware_is_counted_without_allowance(bench):
    bench.supply("hinge", "hardware", "", count=2)
    row = _only(bench)
    assert (show_amount(row.metric), show_amount(row.us), row.note) == ("2 pieces", "2 pieces", "")


def test_hardware_without_a_count_says_so(bench):
    bench.supply("hinge", "hardware")
    assert _only(bench).note == "The plan gives no amount."


@pytest.mark.parametrize("note", ["a candle end", "a candle end."])
def test_what_is_not_stated_is_a_sentence_of_its_own(bench, note):
    bench.supply("wax", "hardware", note=note)
    assert _only(bench).note == "a candle end. The plan gives no amount."


def test_what_is_at_hand_is_not_counted(bench):
    bench.supply("wax", "other", note="a candle end")
    assert _only(bench).note == "a candle end"


def test_a_supply_that_the_design_does_not_list_is_found_by_its_kind_or_name(bench):
    bench.step("Finish")
    bench.do("finish", uses=[Use("shellac", "supply", 0.1, "m2")])
    row = _only(bench)
    assert (row.kind, row.product, row.implied, row.metric.unit) == ("finish", "shellac", True, "ml")


def test_supplies_listed_and_never_used_are_left_out(bench):
    bench.supply("glue", "glue", "yellow wood glue")
    bench.supply("oil", "finish", "tung oil")
    assert supplies(bench.timeline()) == ()


def test_stencils_need_something_that_sticks_them_on(bench):
    bench.step("Stick")
    bench.do("stick")
    row = _only(bench)
    assert (row.name, row.implied, row.metric) == ("removable adhesive", True, None)


def test_a_design_with_spray_adhesive_needs_nothing_more_for_its_stencils(bench):
    bench.supply("spray", "glue", "spray adhesive")
    bench.step("Stick")
    bench.do("stick", uses=[Use("spray", "glue", 0.02, "m2")])
    assert _only(bench).name == "spray"


def test_boards_are_no_supplies(bench):
    bench.step("Mill")
    bench.do("mill", uses=[Use("side", "stock", 1, "board")])
    assert supplies(bench.timeline()) == ()


def test_a_tape_for_another_purpose_does_not_stick_on_the_stencils(bench):
    bench.supply("double-sided tape", "other", note="to hold small blocks on a board")
    bench.supply("masking tape", "other", note="to cover the panel under the stencil")
    bench.step("Stick")
    bench.do("stick")
    assert {row.name: row.steps for row in supplies(bench.timeline())}["removable adhesive"] == (1,)


@pytest.mark.parametrize("kind", ["other", "glue"])
def test_a_tape_that_says_so_sticks_on_the_stencils(bench, kind):
    bench.supply("double-sided tape", kind, note="for the stencils")
    bench.step("Stick")
    bench.do("stick")
    assert [row.name for row in supplies(bench.timeline())] == ["double-sided tape"]


def test_what_only_words_name_is_needed_in_the_steps_that_name_it(bench):
    for name in ("wax", "tape", "double-sided tape", "waxed paper"):
        bench.supply(name, "other", note="a little")
    bench.step("Glue", "Put waxed paper under it.")
    bench.step("Slide", "Rub {wax} on the runners; double sided\ntape holds the block.")
    bench.step("Close", "Do without tape. Wrap it with Tape.")
    found = {row.name: row.steps for row in supplies(bench.timeline())}
    assert found == {"wax": (2,), "tape": (3,), "double-sided tape": (2,), "waxed paper": (1,)}


def test_abrasives_are_used_wherever_their_grit_sands_even_on_edges(bench):
    bench.tool("flat board", "hand sanding", note="grits 120 and 180")
    bench.tool("stick", "hand sanding", note="grits 180 and 240")
    for grit in ("P120", "P180", "P240", "P320"):
        bench.supply(grit, "abrasive", grit)
    bench.step("Sand")
    bench.do("sand face", uses=[Use("flat board", "hand sanding", 0.1, "m2")])
    bench.step("Round")
    bench.do("round over", uses=[Use("stick", "hand sanding", 0.3, "m")])
    bench.step("Rub down", "Rub it down with P320.")
    found = {row.name: row.steps for row in supplies(bench.timeline())}
    assert found == {"P120": (1,), "P180": (1, 2), "P240": (2,), "P320": (3,)}


def test_abrasives_are_used_where_words_alone_sand(bench):
    """With a sander that they name by its own grits, without one by any; sand that is strewn is none."""
    bench.tool("flat board", "hand sanding", note="grits 120 and 180")
    bench.tool("sanding stick", "hand sanding", note="grits 180 and 240")
    bench.tool("disc and drum", "drum sander")
    for grit in ("P120", "P240"):
        bench.supply(grit, "abrasive", grit)
    bench.step("Sand")
    bench.do("sand face", uses=[Use("flat board", "hand sanding", 0.1, "m2")])
    bench.do("sand face", uses=[Use("sanding stick", "hand sanding", 0.1, "m2")])
    bench.step("Ease", "Rub the tab with a sanding stick, two strokes at a time.")
    bench.step("Hollow", "Smooth the inside on the drum; it is out of reach later.")
    bench.step("Glue", "Sand the sawn faces just clean.")
    bench.step("Try", "A tongue that sticks is rubbed with abrasive.")
    bench.step("Varnish", "Strew a little fine sand into the last coat.")
    found = {row.name: row.steps for row in supplies(bench.timeline())}
    assert found == {"P120": (1, 3, 4, 5), "P240": (1, 2, 3, 4, 5)}


@pytest.mark.parametrize(
    "words",
    ["Clamp it, with a block of wood above.", "Press it over a scrap of wood.", "Cut a groove in scrap first."],
)
def test_wood_that_lies_between_or_is_tried_on_is_at_hand(bench, words):
    bench.step("Press", words)
    assert [(row.name, row.steps) for row in supplies(bench.timeline())] == [("scrap wood", (1,))]


def test_a_supply_that_the_words_name_is_in_the_list_once(bench):
    bench.step("Cover", "Cover the panel with masking tape and hold it with double-sided tape.")
    (masking, double) = supplies(bench.timeline())
    assert (masking.name, masking.kind, masking.steps, masking.implied) == ("masking tape", "other", (1,), True)
    assert (double.name, double.steps) == ("double-sided tape", (1,))
    bench.supply("low tack masking tape", "other", count=1)
    assert [row.name for row in supplies(bench.timeline()) if row.implied] == ["double-sided tape"]
